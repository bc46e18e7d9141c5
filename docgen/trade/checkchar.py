"""Check characters of ISO/IEC 7064."""

from __future__ import annotations

from docgen.trade.errors import TradeError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def mod_37_36(text: str) -> str:
    """The check character of ISO/IEC 7064 MOD 37-36 (hybrid system) for capital letters and digits.

    Method: p = 36; for each character a: s = (p + a) mod 36, or 36 where that is nought; p = 2 s mod 37.
    The check character c makes (p + c) mod 36 = 1. It finds every single error and every swap of two neighbours.

    Valid range: one character or more of 0-9 A-Z. Errors: TradeError ``not-checkable``.

    >>> mod_37_36("A12425GABC1234002")
    'M'
    """
    if not text or any(char not in ALPHABET for char in text):
        raise TradeError("not-checkable", f"'{text}' is not made of capital letters and digits only")
    product = 36
    for char in text:
        product = ((product + ALPHABET.index(char)) % 36 or 36) * 2 % 37
    return ALPHABET[(1 - product) % 36]
