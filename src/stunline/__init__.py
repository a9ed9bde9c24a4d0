"""Teaching cue-ball control with real computation."""

__version__ = "0.1.0"
