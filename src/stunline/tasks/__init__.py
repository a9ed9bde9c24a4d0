"""One function for each thing that a user does: its result, its drawing, its JSON.

Every front end calls these, and nothing below them.
"""
