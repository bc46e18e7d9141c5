"""Reading the club folder: strict YAML with positions, the schema, and each engine's log."""
