"""How well a colour stands out against another."""

import re


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21: (lighter + 0.05) / (darker + 0.05) of their relative luminances.

    one, other : sRGB colours as ``#rrggbb``
    Luminance  : 0.2126 R + 0.7152 G + 0.0722 B of the linear components; c / 12.92 up to 0.04045, else
                 ((c + 0.055) / 1.055) ** 2.4
    Errors: ValueError for what is no colour of this form.
    Source: WCAG 2.2, definitions of contrast ratio and relative luminance.

    >>> round(contrast("#767676", "#ffffff"), 2)
    4.54
    """
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def grey(colour: str) -> str:
    """The grey that a printer without colours makes of a colour, as ``#rrggbb``: 0.299 R + 0.587 G + 0.114 B.

    Errors: ValueError for what is no colour of the form ``#rrggbb``. Source: luma of ITU-R BT.601.

    >>> grey("#ff0000")
    '#4c4c4c'
    """
    red, green, blue = _parts(colour)
    return "#" + 3 * f"{round(255 * (0.299 * red + 0.587 * green + 0.114 * blue)):02x}"


def _parts(colour: str) -> tuple[float, float, float]:
    found = re.fullmatch(r"#([0-9a-fA-F]{2})([0-9a-fA-F]{2})([0-9a-fA-F]{2})", colour)
    if found is None:
        raise ValueError(f'"{colour}" is not a colour of the form #rrggbb')
    red, green, blue = (int(digits, 16) / 255 for digits in found.groups())
    return red, green, blue


def _luminance(colour: str) -> float:
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in _parts(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
