"""Equal figures written differently, 0.4 mm and 0.40 mm: they are one value, in the spelling of the one who has it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from docgen.club.yamldoc import Data
from docgen.trade.quantity import QuantityError, parse_band

File = dict[str, Data]
_DECIMAL = re.compile(r"\d+\.\d+")


def respelled(data: File, like: Data) -> File:
    """`data` with each figure in the spelling that `like` has for it, where the two are equal.

    >>> respelled({"new": "0.4..0.50 mm"}, {"new": "0.40..0.5 mm"})
    {'new': '0.40..0.5 mm'}
    """
    texts = set(_scalars(like))
    spelling = {plain: text for text in texts if (plain := _plain(text)) is not None}
    return {key: _respelled(one, texts, spelling) for key, one in data.items()}


def _respelled(data: Data, texts: set[str], spelling: dict[str, str]) -> Data:
    if isinstance(data, dict):
        return {key: _respelled(one, texts, spelling) for key, one in data.items()}
    if isinstance(data, list):
        return [_respelled(one, texts, spelling) for one in data]
    if isinstance(data, str) and data not in texts and (plain := _plain(data)) in spelling:
        return spelling[plain]
    return data


def _scalars(data: Data) -> Iterator[str]:
    if isinstance(data, dict):
        for one in data.values():
            yield from _scalars(one)
    elif isinstance(data, list):
        for one in data:
            yield from _scalars(one)
    elif isinstance(data, str):
        yield data


@lru_cache(4096)
def _plain(text: str) -> str | None:
    """A figure without its trailing noughts; None for what is no figure."""
    if not text[:1].isdigit() and text[:1] not in "<>+-":
        return None
    try:
        parse_band(text)
    except QuantityError:
        return None
    return _DECIMAL.sub(lambda found: found[0].rstrip("0").rstrip("."), text)
