"""Every sheet that is due at the demo club, filled with random values and held against the same sheet laid out.

Each sheet is laid out with its own values and kept; then three sets of random values are put in, of the same length
and longer or shorter by up to two characters. What the kept sheet can be filled with must be, in pixels, words, tags,
fields and what the file says of itself, as if it were laid out. Then each sheet, and the same with a random deviation,
is laid out amid the blocks of all before it: that must give the same bytes as laying all of it out. The last line
counts.
"""

from __future__ import annotations

import random
import sys
import tempfile
from datetime import date
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from docgen.club.read import read_club  # noqa: E402
from docgen.job.resolve import resolve  # noqa: E402
from docgen.plan.due import DUE, OVERDUE, due_list  # noqa: E402
from docgen.press.orders import order  # noqa: E402
from docgen.press.workers import printed  # noqa: E402
from docgen.sheets.leaf import leaf  # noqa: E402
from docgen.sheets.signoff import signoff  # noqa: E402
from tests.press.filled import alone, another, deviating, differences, kept, with_values  # noqa: E402

DAY = date(2027, 2, 20)


def main() -> int:
    """Hold every sheet against itself; print what differs."""
    folder = read_club(ROOT)
    club = folder.club.value
    due = [line for line in due_list(folder, DAY) if line.job and line.state in (DUE, OVERDUE)]
    sheets = filled = laid_out = faults = amid = 0
    for line in due:
        job = resolve(folder, folder.engines[line.engine], folder.procedures[line.job], DAY)
        for make in (leaf, signoff):
            sheets += 1
            chance = random.Random(f"{line.engine} {line.job} {make.__name__}")
            first = order("bench", make(job, club), job, club.club, forms=make is signoff)
            with tempfile.TemporaryDirectory() as place:
                shelf = kept(first, Path(place))
                for longer in (0, 0, 2):
                    second = with_values(first, partial(another, chance=chance, longer=longer))
                    made = shelf.filled(second)
                    if made is None:
                        laid_out += 1
                        continue
                    filled += 1
                    found = differences(made.pdf, printed(second).pdf)
                    faults += bool(found)
                    if found:
                        print(f"{line.engine} {line.job} {make.__name__}: {', '.join(found)}", flush=True)
            for one in (job, deviating(job, chance)):
                again = order("bench", make(one, club), one, club.club, forms=make is signoff)
                same = printed(again).pdf == alone(again)
                amid += same
                faults += not same
                if not same:
                    print(f"{line.engine} {line.job} {make.__name__}: other bytes amid others", flush=True)
    print(f"sheets: {sheets}; filled: {filled}; laid out instead: {laid_out}; the same amid others: {amid}; "
          f"otherwise than laid out: {faults}")  # fmt: skip
    return 1 if faults or not filled or not amid else 0


if __name__ == "__main__":
    sys.exit(main())
