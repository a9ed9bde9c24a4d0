"""Tables, balls, cloths and cues as data, a unit and a source beside every number."""
