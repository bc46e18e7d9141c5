"""Leak tests: what leaks, from the fall of pressure in a closed volume, and what fall a leak would give."""

from __future__ import annotations

from docgen.trade.errors import TradeError, check_range

ATMOSPHERE_KPA = 101.325


def leak_rate_ml_min(volume_ml: float, start_kpa: float, end_kpa: float, seconds: float) -> float:
    r"""Return the leak as air at standard atmosphere, ml/min: :math:`V\,(p_1 - p_2) / (p_{atm}\, t)`.

    volume_ml          : closed volume with its hose and gauge, 1 to 100 000
    start_kpa, end_kpa : gauge or absolute, both alike, -101 to 1000; a vacuum test gives the same figure when the
                         pressure rises towards nought
    seconds            : 1 to 86 400; the temperature is taken as unchanged, so wait until it has settled
    Errors: TradeError `out-of-range`; `no-leak-direction` when the pressure went away from the atmosphere.
    Source: ideal gas at constant temperature; the same form as 40 CFR 1065.644.

    >>> round(leak_rate_ml_min(300, 50, 45, 60), 1)
    14.8
    """
    check_range("closed volume", volume_ml, 1, 100_000, "ml")
    check_range("time", seconds, 1, 86_400, "s")
    for what, value in (("pressure at the start", start_kpa), ("pressure at the end", end_kpa)):
        check_range(what, value, -101, 1000, "kPa")
    fall = start_kpa - end_kpa if start_kpa >= 0 else end_kpa - start_kpa
    if fall < 0:
        raise TradeError(
            "no-leak-direction",
            f"the pressure went from {start_kpa:g} to {end_kpa:g} kPa, away from the atmosphere",
            "let the temperature settle and test again",
        )
    return volume_ml * fall / ATMOSPHERE_KPA / (seconds / 60)


def pressure_fall_kpa(volume_ml: float, leak_ml_min: float, seconds: float) -> float:
    """Return the fall of pressure that a leak gives, kPa: the inverse of `leak_rate_ml_min`.

    >>> round(pressure_fall_kpa(300, 14.8, 60), 1)
    5.0
    """
    check_range("closed volume", volume_ml, 1, 100_000, "ml")
    check_range("leak", leak_ml_min, 0, 100_000, "ml/min")
    check_range("time", seconds, 1, 86_400, "s")
    return leak_ml_min * ATMOSPHERE_KPA * (seconds / 60) / volume_ml
