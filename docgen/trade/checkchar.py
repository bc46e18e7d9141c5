"""Check characters of ISO/IEC 7064: MOD 37-36 for sheet numbers (one character) and MOD 97-10 for numbers (two)."""

from __future__ import annotations

from docgen.trade.errors import TradeError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def check_character(text: str) -> str:
    r"""Return the ISO/IEC 7064 MOD 37-36 check character, a digit or upper-case letter.

    With :math:`P = 36` before the first character and for each character of value a:

    .. math:: S = (P + a) \bmod 36 \;(0 \to 36), \qquad P = 2S \bmod 37

    the check character's value c is the one with :math:`(P + c) \bmod 36 = 1`. It finds every single wrong character
    and nearly every swap of neighbours.
    text : 1 to 64 of 0-9 and A-Z. Errors: TradeError `bad-characters`.

    >>> check_character("A12425GABC1234002")  # published example: M
    'M'
    """
    product = 36
    for value in _values(text, ALPHABET):
        product = ((product + value) % 36 or 36) * 2 % 37
    return ALPHABET[(1 - product) % 36]


def is_valid(text: str) -> bool:
    """Tell whether a text ends in its MOD 37-36 check character; False too for characters that do not belong.

    >>> is_valid("A12425GABC1234002M"), is_valid("A12425GABC1234020M"), is_valid("a1")
    (True, False, False)
    """
    if len(text) < 2 or any(char not in ALPHABET for char in text):
        return False
    return check_character(text[:-1]) == text[-1]


def check_digits(number: str) -> str:
    r"""Return the two ISO/IEC 7064 MOD 97-10 check digits: the c of 2 to 98 with :math:`(100\,n + c) \bmod 97 = 1`.

    number : 1 to 64 of 0-9. Errors: TradeError `bad-characters`.

    >>> check_digits("794")  # published example: 44
    '44'
    """
    value = 0
    for digit in _values(number, ALPHABET[:10]):
        value = (value * 10 + digit) % 97
    return f"{98 - 100 * value % 97:02d}"


def has_valid_digits(number: str) -> bool:
    """Tell whether a number ends in two MOD 97-10 check digits: whether it leaves 1 when divided by 97.

    >>> has_valid_digits("79444"), has_valid_digits("79445")
    (True, False)
    """
    if not 3 <= len(number) <= 66 or any(char not in ALPHABET[:10] for char in number):
        return False
    return int(number) % 97 == 1


def _values(text: str, alphabet: str) -> list[int]:
    if not 1 <= len(text) <= 64 or any(char not in alphabet for char in text):
        raise TradeError(
            "bad-characters", f'"{text[:64]}" must be 1 to 64 characters of {alphabet[0]} to {alphabet[-1]}'
        )
    return [alphabet.index(char) for char in text]
