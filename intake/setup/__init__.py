"""Getting a machine ready: nothing here needs more than Python's own library."""
