"""Procedures between clubs: parcels packed and received, what changed in them, whether a printed sheet is current."""
