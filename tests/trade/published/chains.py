"""Chains and sprockets."""

from __future__ import annotations

from docgen.trade import chain
from tests.trade.published import Published

TITLE = "Chain and sprockets"
B29, KART = "ASME B29.1", "ASME B29.1 formula, 7.774 mm kart pitch"
LIMITS = "chain makers' renewal limits"


def rows() -> list[Published]:
    diameters = [(25, 38.1, "303.99"), (18, 25.4, "146.27"), (73, 25.4, "590.39"), (80, 25.4, "646.97")]
    kart = [(10, "25.157"), (11, "27.594"), (82, "202.962")]
    return [
        *(
            Published(f"pitch diameter, {n} teeth, pitch {p}", chain.pitch_diameter_mm(n, p), shown, "mm", B29, "copy")
            for n, p, shown in diameters
        ),
        Published(
            "outside diameter, 25 teeth, pitch 38.1",
            chain.outside_diameter_mm(25, 38.1),
            "324.46",
            "mm",
            B29,
            "copy",
            within=0.0127,
            because="the source rounds in inches, to 0.001 in",
        ),
        *(
            Published(f"pitch diameter, {n} teeth, kart chain", chain.pitch_diameter_mm(n), shown, "mm", KART, "calc")
            for n, shown in kart
        ),
        Published("106 links of kart chain", 106 * chain.KART_PITCH_MM, "824.04", "mm", KART, "calc"),
        Published("elongation limit, 40 teeth", chain.elongation_limit_percent(40), "3", "%", LIMITS, "copy"),
        Published("elongation limit, 80 teeth (200/N)", chain.elongation_limit_percent(80), "2.5", "%", LIMITS, "copy"),
        Published(
            "elongation limit, fixed centres",
            chain.elongation_limit_percent(40, fixed_centres=True),
            "1.5",
            "%",
            LIMITS,
            "copy",
        ),
    ]
