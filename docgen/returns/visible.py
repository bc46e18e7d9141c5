"""The sheet numbers that a reader of the paper sees, from the text of each page."""

from __future__ import annotations

import io
import logging
import re

import pypdf

from docgen.returns.form import MAX_PAGES

NUMBER = re.compile(r"(?<![A-Z0-9-])[A-Z0-9]{1,6}-[A-Z]{3}-\d{2,4}-\d{3,5}-[A-Z]\d{1,2}-[A-Z0-9](?![A-Z0-9-])")


def visible_numbers(data: bytes) -> tuple[str, ...]:
    """What has the form of a sheet number on each page, page by page; a page without one gives an empty text.

    Errors: whatever pypdf raises on a file that it cannot read.
    """
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    reader = pypdf.PdfReader(io.BytesIO(data))
    return tuple(_number(page.extract_text()) for page in reader.pages[:MAX_PAGES])


def _number(text: str) -> str:
    found = NUMBER.findall(text)
    return found[-1] if found else ""
