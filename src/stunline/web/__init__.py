"""The local page: its server, and what the browser is given. Thin: tasks do the work."""
