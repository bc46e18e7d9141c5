"""What the trade's formulas say, in a job's language.

The formulas know no language: their sentences come out in English, with figures in them. Each is matched against the
patterns here and said again in the other language; a test holds every sentence of the trade's tables against them.
"""

import re
from functools import cache

from docgen.club.catalogue import ENGLISH
from docgen.club.words import Words, message

GOVERNS = (message("screw"), message("boss"), message("screw thread"))
"""What may set the ceiling of an estimated torque."""
_SENTENCES = (
    message("a gauge of {gauge} cannot decide {limits}"),
    message("measure with a finer gauge"),
    message("the gauge's {gauge} takes {share} % of {limits}"),
    message("a gauge cannot show steps of {step}"),
    message("{thread}, class {grade}"),
    message("{state}: friction {low} to {high} in thread and under head"),
    message("bearing face {face} mm on a {hole} mm hole ({seat})"),
    message("full nut of the screw's own class"),
    message("{length} mm of {thread} engaged in {material}, shear strength {strength} MPa"),
    message("insert for {thread} in {material}, shear strength {strength} MPa"),
    message("as delivered, no lubricant added"),
    message("oiled or greased"),
    message("oiled"),
    message("liquid threadlocker"),
    message("paste with solid lubricant"),
    message("{alloy} (aluminium)"),
    message("{alloy} (magnesium)"),
    message("hexagon head or nut, {thread}"),
    message("socket cap head, {thread}"),
    message("margin of {margin} against stripping"),
    message("{one} and {other}"),
)
_AS_IT_IS = frozenset({"grade", "alloy"})
"""Parts that are names though they hold figures: class 8.8 keeps its point."""


def of_trade(text: str, w: Words) -> str:
    """A sentence of :mod:`docgen.trade` in the words' language; one that no pattern knows stays as it is."""
    if w.language == ENGLISH or not text:
        return text
    for pattern in _SENTENCES:
        found = _matcher(pattern).fullmatch(text)
        if found:
            parts = {key: part if key in _AS_IT_IS else _again(part, w) for key, part in found.groupdict().items()}
            return w(pattern, **parts)
    return text


def _again(part: str, w: Words) -> str:
    """A filled-in part: another sentence of the trade, or figures."""
    said = of_trade(part, w)
    return said if said != part else re.sub(r"(?<=\d)\.(?=\d)", w.decimal_sign, part)


@cache
def _matcher(pattern: str) -> re.Pattern[str]:
    parts = re.split(r"\{(\w+)\}", pattern)
    return re.compile("".join(re.escape(p) if n % 2 == 0 else f"(?P<{p}>.+?)" for n, p in enumerate(parts)))
