"""What a club does with docgen, each use in one place: the command line and scripts stand in front of it."""
