"""Word lists of the proof rules: CSV files with a `source` column."""

from docgen.trade.tables import read_table


def read_words(name: str) -> tuple[dict[str, str], ...]:
    """The rows of one list, as :func:`docgen.trade.tables.read_table` reads them."""
    return read_table(name, __package__)
