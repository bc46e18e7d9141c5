"""Roller chain and sprockets: diameters, checks over pins or teeth, elongation, ratio and length."""

from __future__ import annotations

import math

from docgen.trade.errors import TradeError, check_range

KART_PITCH_MM = 7.774  # common practice: the 219 kart chain


def pitch_diameter_mm(teeth: int, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return the diameter of the circle through the pins: :math:`P / \sin(180°/N)`.

    teeth : 6 to 150; pitch_mm : 4 to 120. Errors: TradeError `out-of-range`. Sources: ASME B29.1, ISO 606.

    >>> round(pitch_diameter_mm(25, 38.1), 2)  # published: 303.99
    303.99
    """
    _check(teeth, pitch_mm)
    return pitch_mm / math.sin(math.pi / teeth)


def outside_diameter_mm(teeth: int, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return the diameter over the tips, about: :math:`P\,(0.6 + \cot(180°/N))`.

    Range and errors as for `pitch_diameter_mm`. Source: ASME B29.1.

    >>> round(outside_diameter_mm(25, 38.1), 2)  # published: 324.46, from an inch table
    324.45
    """
    _check(teeth, pitch_mm)
    return pitch_mm * (0.6 + 1 / math.tan(math.pi / teeth))


def caliper_diameter_mm(teeth: int, roller_mm: float, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return the distance over the bottoms of opposite (even N) or nearly opposite (odd N) tooth gaps.

    .. math:: D - d_r \;\text{(even)}, \qquad D \cos(90°/N) - d_r \;\text{(odd)}

    roller_mm : over 0 and under the pitch. Errors: TradeError `out-of-range`. Source: ASME B29.1.
    """
    check_range("roller diameter", roller_mm, 0.1, pitch_mm, "mm")
    return _across_mm(teeth, pitch_mm) - roller_mm


def over_pins_mm(teeth: int, pin_mm: float, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return the distance over two pins laid in opposite (even N) or nearly opposite (odd N) gaps.

    .. math:: d + d_R \;\text{(even)}, \qquad d \cos(90°/z) + d_R \;\text{(odd)}

    pin_mm : the roller's own diameter, as a rule. Errors: TradeError `out-of-range`. Source: ISO 606 (from memory).
    """
    check_range("pin diameter", pin_mm, 0.1, pitch_mm, "mm")
    return _across_mm(teeth, pitch_mm) + pin_mm


def elongation_percent(measured_mm: float, pitches: int, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return by how much a chain is longer than new, in per cent: :math:`100\,(L / (n P) - 1)`.

    measured_mm : over n pitches, pulled straight; pitches : 4 to 400; result between -2 and 10.
    Errors: TradeError `out-of-range` (a miscounted link shows here).

    >>> round(elongation_percent(161.6, 20, 8.0), 2)
    1.0
    """
    check_range("number of pitches", pitches, 4, 400)
    _check(6, pitch_mm)
    return check_range("elongation", 100 * (measured_mm / (pitches * pitch_mm) - 1), -2, 10, "%")


def elongation_limit_percent(largest_teeth: int, *, fixed_centres: bool = False) -> float:
    """Return the elongation at which a chain is renewed, in per cent.

    3 in general, 200 / N where the larger sprocket has more than 67 teeth, at most 1.5 on fixed centres.
    A club's own limit in the model comes first (karting: 1 to 1.5, common practice). Source: chain makers' (copy).

    >>> elongation_limit_percent(80), elongation_limit_percent(40), elongation_limit_percent(40, fixed_centres=True)
    (2.5, 3.0, 1.5)
    """
    _check(largest_teeth, KART_PITCH_MM)
    general = 200 / largest_teeth if largest_teeth > 67 else 3.0
    return min(general, 1.5) if fixed_centres else general


def ratio(engine_teeth: int, axle_teeth: int) -> float:
    """Return turns of the engine sprocket for one turn of the axle: axle teeth over engine teeth.

    >>> ratio(10, 82)
    8.2
    """
    _check(engine_teeth, KART_PITCH_MM)
    _check(axle_teeth, KART_PITCH_MM)
    return axle_teeth / engine_teeth


def length_in_pitches(centre_mm: float, teeth_1: int, teeth_2: int, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return the chain's length for a distance between shafts, in pitches, unrounded.

    .. math:: L = \frac{2C}{P} + \frac{N_1 + N_2}{2} + \left(\frac{N_2 - N_1}{2\pi}\right)^2 \frac{P}{C}

    centre_mm : more than the sprockets' radii together. Errors: TradeError `out-of-range`. Source: ASME B29.1 appendix.
    """
    reach = (pitch_diameter_mm(teeth_1, pitch_mm) + pitch_diameter_mm(teeth_2, pitch_mm)) / 2
    check_range("distance between the shafts", centre_mm, reach, 200 * pitch_mm, "mm")
    across = ((teeth_2 - teeth_1) / (2 * math.pi)) ** 2
    return 2 * centre_mm / pitch_mm + (teeth_1 + teeth_2) / 2 + across * pitch_mm / centre_mm


def links_for(centre_mm: float, teeth_1: int, teeth_2: int, pitch_mm: float = KART_PITCH_MM) -> int:
    """Return the least even number of links that closes over a distance between shafts.

    >>> links_for(200, 11, 82)
    104
    """
    return 2 * math.ceil(length_in_pitches(centre_mm, teeth_1, teeth_2, pitch_mm) / 2 - 1e-9)


def centre_for_mm(links: int, teeth_1: int, teeth_2: int, pitch_mm: float = KART_PITCH_MM) -> float:
    r"""Return the distance between shafts for a number of links, mm: the inverse of `length_in_pitches`.

    .. math:: C = \frac{P}{4}\left(A + \sqrt{A^2 - 8\left(\frac{N_2 - N_1}{2\pi}\right)^2}\right),
              \quad A = L - \frac{N_1 + N_2}{2}

    Errors: TradeError `chain-too-short` when the sprockets do not clear each other; `out-of-range`.
    """
    reach = (pitch_diameter_mm(teeth_1, pitch_mm) + pitch_diameter_mm(teeth_2, pitch_mm)) / 2
    free = links - (teeth_1 + teeth_2) / 2
    inside = free**2 - 8 * ((teeth_2 - teeth_1) / (2 * math.pi)) ** 2
    centre = pitch_mm / 4 * (free + math.sqrt(inside)) if free > 0 and inside >= 0 else 0.0
    if centre < reach:
        raise TradeError("chain-too-short", f"{links} links do not go round {teeth_1} and {teeth_2} teeth")
    return check_range("distance between the shafts", centre, reach, 200 * pitch_mm, "mm")


def _across_mm(teeth: int, pitch_mm: float) -> float:
    diameter = pitch_diameter_mm(teeth, pitch_mm)
    return diameter if teeth % 2 == 0 else diameter * math.cos(math.pi / 2 / teeth)


def _check(teeth: int, pitch_mm: float) -> None:
    check_range("number of teeth", teeth, 6, 150)
    check_range("chain pitch", pitch_mm, 4, 120, "mm")
