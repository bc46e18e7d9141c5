"""Reading ``glossary.yaml``."""

from __future__ import annotations

from docgen.club.beside import read_beside
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.glossary import Glossary

GLOSSARY = "glossary.yaml"


def read_glossary(folder: Folder) -> tuple[Read[Glossary] | None, list[Problem]]:
    """The club's terms, or what is wrong with their file; None without a problem where the club keeps none."""
    return read_beside(folder.root, GLOSSARY, Glossary)
