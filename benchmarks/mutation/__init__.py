"""Mutants of the shipped procedures and models, and an oracle that classes them without the simulation."""
