"""Reading files of the user's: text with a size limit, TOML with lines, values with faults."""
