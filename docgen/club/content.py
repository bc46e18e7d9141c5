"""The digest of what a file says, however it is laid out."""

from __future__ import annotations

import hashlib
import json

from docgen.club.yamldoc import Data, Document


def content_digest(document: Document) -> str:
    """SHA-256 of what a file says: its data as JSON with sorted keys, UTF-8; hexadecimal."""
    return data_digest(document.data)


def data_digest(data: Data) -> str:
    """SHA-256 of plain data as JSON with sorted keys, UTF-8; hexadecimal."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()
