"""The trade's own arithmetic: units, threads, tightening, limits, wear, chain, engine and time.

Pure functions. Each names its equation, its units, its valid range, its errors and its source; a value out of range is
a `TradeError`, never a clamp. Tables are data files under `tables/`, every row with its source. Nothing here knows of a
club's files or of a page.
"""
