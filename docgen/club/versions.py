"""The texts of earlier versions of shared files, as they were when they came or went out."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from docgen.club.content import data_digest
from docgen.club.files import read_bytes
from docgen.club.problem import Problem
from docgen.club.teaching import read_shared
from docgen.club.yamldoc import Data


def version_file(path: str, digest: str) -> str:
    """Where the text of one version of a shared file is kept."""
    file = PurePosixPath(path)
    return f"shared/versions/{file.stem}-{digest[:16]}{file.suffix}"


def kept_version(root: Path, path: str, digest: str) -> Data:
    """What a version said; None where its text is not here or was changed."""
    data = read_bytes(root, version_file(path, digest))
    document = None if isinstance(data, Problem) else read_shared(path, data)[0]
    return document.data if document is not None and data_digest(document.data) == digest else None
