"""The sheets of many jobs, made side by side."""

import dataclasses
import tempfile
from collections.abc import Callable, Iterable
from itertools import chain, islice
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.store import TEMPORARY
from docgen.desk.jobsheets import KINDS, Asked, Maker, NotKept, Sheet, Wish
from docgen.press.journal import Journal
from docgen.press.pool import each, side_by_side

__all__ = ["Asked", "Sheet", "press_sheets", "ready"]

ALONE = 24
"""Jobs that are filled into kept layouts in the time that others take to start: about half a second."""


def ready(folder: Path) -> None:
    """Make the folder, and see that something can be written into it, before sheets for it get their numbers.

    Errors: OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryFile(dir=folder, prefix=TEMPORARY):
        pass


def press_sheets(
    folder: Folder, wishes: Iterable[Wish], out: Path, *,
    many: int, processes: int | None = None, watch: Callable[[Sheet], None] = lambda sheet: None,
) -> list[Sheet]:  # fmt: skip
    """Print each job's leaf and sign-off sheet with its number; what lies there as it would be is left.

    While layouts that were kept are filled, the first few jobs are done before others could have started; what is laid
    out, and all that comes then, is made in processes of their own, a whole job at a time. A job is asked for
    when one of them has nothing to do, so that memory does not grow with how many there are.

    out   : where the PDFs go, a folder an engine; each engine's is to be :func:`ready`
    many  : how many jobs there will be; they are taken one after the other
    watch : told of each sheet when it is whole
    Errors: OSError, StoreError.
    """
    done: dict[int, list[Sheet]] = {}

    def finished(at: int, sheet: Sheet) -> None:
        done.setdefault(at, []).append(sheet)
        watch(sheet)

    count = side_by_side(len(KINDS) * many, processes)
    maker, left = Maker(folder, out, lays_out=count == 1), enumerate(wishes)
    first: list[tuple[int, Wish]] = []
    if count == 1:
        for at, wish in left:
            for sheet in maker.sheets(wish):
                finished(at, sheet)
    for task in islice(left, ALONE):
        try:
            for sheet in maker(task)[1]:
                finished(task[0], sheet)
        except NotKept:
            first = [task]
            break
    helping = Maker(dataclasses.replace(folder, engines={}, problems=[], instead={}), out)
    for at, sheets in each(helping, chain(first, left), count, lambda task: (task[0], [*maker.failed(task[1])])):
        for sheet in sheets:
            finished(at, sheet)
    Journal(out).close()
    return [sheet for at in sorted(done) for sheet in done[at]]
