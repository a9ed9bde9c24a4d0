"""One function for each thing a user does: result, drawing and JSON for every front end."""
