"""The check character of sheet numbers: ISO/IEC 7064 MOD 37-36."""

from docgen.trade.errors import TradeError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def check_character(text: str) -> str:
    r"""Return the ISO/IEC 7064 MOD 37-36 check character, a digit or upper-case letter.

    With :math:`P = 36` before the first character and for each character of value a:

    .. math:: S = (P + a) \bmod 36 \;(0 \to 36), \qquad P = 2S \bmod 37

    the check character's value c is the one with :math:`(P + c) \bmod 36 = 1`. It finds every single wrong character
    and nearly every swap of neighbours.
    text : 1 to 64 of 0-9 and A-Z
    Errors: TradeError `bad-characters`. Source: ISO/IEC 7064, with a published worked value.

    >>> check_character("A12425GABC1234002")  # published example: M
    'M'
    """
    product = 36
    for value in _values(text):
        product = ((product + value) % 36 or 36) * 2 % 37
    return ALPHABET[(1 - product) % 36]


def is_valid(text: str) -> bool:
    """Tell whether a text ends in its MOD 37-36 check character; False too for characters that do not belong.

    Errors: none. Source: as for `check_character`.

    >>> is_valid("A12425GABC1234002M"), is_valid("A12425GABC1234020M"), is_valid("a1")
    (True, False, False)
    """
    if len(text) < 2 or any(char not in ALPHABET for char in text):
        return False
    return check_character(text[:-1]) == text[-1]


def _values(text: str) -> list[int]:
    if not 1 <= len(text) <= 64 or any(char not in ALPHABET for char in text):
        raise TradeError("bad-characters", f'"{text[:64]}" must be 1 to 64 characters of 0 to Z')
    return [ALPHABET.index(char) for char in text]
