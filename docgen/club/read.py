"""Reading a club: its files, their shapes, and the names that they use of each other."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from docgen.club.folder import Folder, read_folder
from docgen.club.known import Known
from docgen.club.moves import move_problems
from docgen.club.references import reference_problems
from docgen.club.spoken import club_language, spoken
from docgen.club.uses import lacking


def read_club(
    root: Path, known: Known | None = None, instead: Mapping[str, bytes] | None = None,
    engines: Collection[str] | None = None,
) -> Folder:  # fmt: skip
    """Everything in the club folder `root`, in the club's language, with every problem in every file.

    known   : what was read before; it saves parsing, and learns what was new
    instead : bytes that stand for files of procedures/ or models/ or for club.yaml, as if they lay there
    engines : the engines that are needed; None for all. Those whose components were ever moved are read as well
    """
    folder = read_folder(root, known, instead, engines)
    folder.lacking = lacking(folder)
    folder.problems = sorted({*folder.problems, *reference_problems(folder), *move_problems(folder)})
    return spoken(folder, club_language(folder))
