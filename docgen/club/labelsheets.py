"""Reading ``labels.yaml``: the club's own label sheets."""

from __future__ import annotations

from docgen.club.beside import read_beside
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.labels import LabelSheets

LABELS = "labels.yaml"


def read_label_sheets(folder: Folder) -> tuple[Read[LabelSheets] | None, list[Problem]]:
    """The club's own label sheets, or what is wrong with their file; None without a problem where it has none."""
    return read_beside(folder.root, LABELS, LabelSheets)
