"""Word lists of the proof rules: CSV files with a `source` column."""
