"""The trade's tables: CSV files beside this one, each row with a `source` column."""

import csv
from functools import cache
from importlib import import_module


@cache
def read_table(name: str, package: str = __package__) -> tuple[dict[str, str], ...]:
    """Return the rows of `NAME.csv` in a package of tables, each as column -> text, in the file's order.

    Every row has a non-empty `source`; a table that breaks this rule, or that is empty, raises ValueError.
    """
    beside = import_module(package)
    text = beside.__loader__.get_data(f"{beside.__path__[0]}/{name}.csv").decode()  # type: ignore[union-attr]
    rows = tuple(csv.DictReader(text.splitlines(), strict=True))
    if not rows:
        raise ValueError(f"table {name} is empty")
    for number, row in enumerate(rows, start=2):
        if None in row or None in row.values() or not row.get("source"):
            raise ValueError(f"table {name}, line {number}: wrong number of columns, or no source")
    return rows
