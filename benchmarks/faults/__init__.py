"""Kills a filing at every point where it touches the system, and counts what is left."""
