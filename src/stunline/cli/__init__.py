"""The command line: read the input, call one task, show the result."""
