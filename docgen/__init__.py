"""docgen: printed workshop documents for race engines."""
