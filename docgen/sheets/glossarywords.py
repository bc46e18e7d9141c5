"""The words of the glossary's page."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.sheets.pagewords import PageWords


@dataclass(frozen=True)
class GlossaryWords(PageWords):
    """What the page says round the club's own terms."""

    glossary: str = "Glossary"
    glossary_title: str = "Terms of the trade"
    glossary_note: str = "What the sheets say, in common words. Somebody at the bench knows the rest: ask."
