"""The digest of what a file says, however it is laid out, and the texts of earlier versions that were kept."""

import hashlib
import json
from pathlib import Path, PurePosixPath

from docgen.club.files import read_bytes
from docgen.club.problem import Problem
from docgen.club.teaching import read_shared
from docgen.club.yamldoc import Data, Document


def content_digest(document: Document) -> str:
    """SHA-256 of what a file says: its data as JSON with sorted keys, UTF-8; hexadecimal."""
    return data_digest(document.data)


def data_digest(data: Data) -> str:
    """SHA-256 of plain data as JSON with sorted keys, UTF-8; hexadecimal."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def version_file(path: str, digest: str) -> str:
    """Where the text of one version of a shared file is kept."""
    file = PurePosixPath(path)
    return f"shared/versions/{file.stem}-{digest[:16]}{file.suffix}"


def kept_version(root: Path, path: str, digest: str) -> Data:
    """What a version said; None where its text is not here or was changed."""
    data = read_bytes(root, version_file(path, digest))
    document = None if isinstance(data, Problem) else read_shared(path, data)[0]
    return document.data if document is not None and data_digest(document.data) == digest else None
