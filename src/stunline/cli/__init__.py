"""The command line: reads input, calls one task, shows the result."""
