"""Signed sheets back into the record: what was written on them, judged by what was printed on them."""
