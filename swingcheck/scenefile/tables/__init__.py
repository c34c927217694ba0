"""One module a table of the scene file: its keys, what is usual, how it is read, its limits."""
