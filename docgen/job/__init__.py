"""A procedure meets a model and an engine: every value filled, each knowing where it came from."""
