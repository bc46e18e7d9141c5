"""What the trade's formulas say, in a job's language.

The formulas know no language: their sentences come out in English, with figures in them. Each is matched against the
patterns of ``JobWords.trade`` and said again in the other language; a test holds every sentence of the trade's tables
against the patterns.
"""

from __future__ import annotations

import re
from functools import cache

from docgen.job.words import JobWords

_ENGLISH = JobWords()
_AS_IT_IS = frozenset({"grade", "alloy"})
"""Parts that are names though they hold figures: class 8.8 keeps its point."""


def of_trade(text: str, w: JobWords) -> str:
    """A sentence of :mod:`docgen.trade` in the words' language; one that no pattern knows stays as it is."""
    if w.language == _ENGLISH.language or not text:
        return text
    for name, pattern in _ENGLISH.trade.items():
        found = _matcher(pattern).fullmatch(text)
        if found:
            parts = {key: part if key in _AS_IT_IS else _again(part, w) for key, part in found.groupdict().items()}
            return w.trade[name].format(**parts)
    return text


def _again(part: str, w: JobWords) -> str:
    """A filled-in part: another sentence of the trade, or figures."""
    said = of_trade(part, w)
    return said if said != part else re.sub(r"(?<=\d)\.(?=\d)", w.decimal_sign, part)


@cache
def _matcher(pattern: str) -> re.Pattern[str]:
    parts = re.split(r"\{(\w+)\}", pattern)
    return re.compile("".join(re.escape(p) if n % 2 == 0 else f"(?P<{p}>.+?)" for n, p in enumerate(parts)))
