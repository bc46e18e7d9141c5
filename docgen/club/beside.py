"""Files beside ``club.yaml`` that only some commands need: the shelf, the glossary, the club's own label sheets."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel

from docgen.club.files import read_bytes
from docgen.club.fit import fit
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.glossary import Glossary
from docgen.club.schema.labels import LabelSheets
from docgen.club.yamltext import read_yaml

Shape = TypeVar("Shape", bound=BaseModel)


def read_beside(root: Path, path: str, shape: type[Shape]) -> tuple[Read[Shape] | None, list[Problem]]:
    """The file in its shape; None with its problems where it has any, None without where there is no such file."""
    if not (root / path).is_symlink() and not (root / path).exists():
        return None, []
    data = read_bytes(root, path)
    if isinstance(data, Problem):
        return None, [data]
    document, problems = read_yaml(path, data)
    if document is None:
        return None, problems
    value, misfits = fit(document, shape)
    found = sorted([*problems, *misfits])
    return (Read(value, document) if value is not None and not found else None), found


LABELS = "labels.yaml"


def read_label_sheets(folder: Folder) -> tuple[Read[LabelSheets] | None, list[Problem]]:
    """The club's own label sheets, or what is wrong with their file; None without a problem where it has none."""
    return read_beside(folder.root, LABELS, LabelSheets)


GLOSSARY = "glossary.yaml"


def read_glossary(folder: Folder) -> tuple[Read[Glossary] | None, list[Problem]]:
    """The club's terms, or what is wrong with their file; None without a problem where the club keeps none."""
    return read_beside(folder.root, GLOSSARY, Glossary)
