"""The shapes of the files in a club folder, one module a kind of file."""
