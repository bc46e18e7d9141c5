"""Torque and preload of one screw, the estimate where the maker gives none, and the check of a given figure."""

import math
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from docgen.trade.errors import TradeError, check_range
from docgen.trade.friction import Friction, Seat
from docgen.trade.materials import PropertyClass
from docgen.trade.quantity import Band
from docgen.trade.stripping import StripLoad
from docgen.trade.threads import Thread

SOURCE = "VDI 2230-1 (formula from memory; checked against its published tables)"
YIELD_SHARE = 0.9  # share of the yield stress that tension and twist together may use (VDI 2230-1)
STRIP_MARGIN = 2.0  # our choice: typical casting strengths, heat, and screws that are undone often


def stress_factor(thread: Thread, mu: float) -> float:
    r"""Return by how much the twist raises the tension stress of a screw while it is tightened.

    .. math:: k = \sqrt{1 + 3\left[1.5\, \frac{d_2}{d_0}\left(\frac{P}{\pi d_2} + 1.155\, \mu\right)\right]^2}

    mu : friction in the thread, 0.04 to 0.40
    Errors: TradeError `out-of-range`. Source: VDI 2230-1 (formula from memory).

    >>> from docgen.trade.threads import thread
    >>> round(stress_factor(thread("M8x1.25"), 0.12), 2)
    1.13
    """
    check_range("friction coefficient", mu, 0.04, 0.40)
    d2 = thread.pitch_diameter_mm
    twist = 1.5 * d2 / thread.stress_diameter_mm * (thread.pitch_mm / (math.pi * d2) + 1.155 * mu)
    return math.sqrt(1 + 3 * twist**2)


def screw_preload_n(thread: Thread, screw: PropertyClass, mu: float, share: float = YIELD_SHARE) -> float:
    r"""Return the preload at which tension and twist together reach `share` of the yield stress, N.

    .. math:: F = \frac{\nu\, R_{p0.2}\, A_s}{k}, \quad k \text{ as in stress\_factor}

    mu    : friction in the thread, 0.04 to 0.40
    share : 0.05 to 1
    Errors: TradeError `out-of-range`. Source: VDI 2230-1.

    >>> from docgen.trade.materials import property_class
    >>> from docgen.trade.threads import thread
    >>> round(screw_preload_n(thread("M8x1"), property_class("8.8"), 0.12) / 1000, 1)  # table: 20.2 kN
    20.2
    """
    check_range("share of the yield stress", share, 0.05, 1)
    return share * screw.yield_mpa * thread.stress_area_mm2 / stress_factor(thread, mu)


def torque_nm(thread: Thread, seat: Seat, mu: float, preload_n: float) -> float:
    r"""Return the tightening torque that gives a preload, N.m.

    .. math:: T = F\,(0.16\, P + 0.58\, d_2\, \mu_G + \tfrac{1}{2} D_{km}\, \mu_K)

    mu        : 0.04 to 0.40, the same in the thread and under the head
    preload_n : 0 to 1 000 000 N
    Errors: TradeError `out-of-range`. Source: VDI 2230-1.

    >>> from docgen.trade.threads import thread
    >>> round(torque_nm(thread("M8x1"), Seat(11.63, 9), 0.12, 20200), 1)  # table: 26.1 N.m
    26.1
    """
    check_range("preload", preload_n, 0, 1e6, "N")
    return preload_n * _lever_mm(thread, seat, mu) / 1000


def preload_n(thread: Thread, seat: Seat, mu: float, torque: float) -> float:
    """Return the preload that a torque gives, N: the inverse of `torque_nm`.

    mu     : 0.04 to 0.40, the same in the thread and under the head
    torque : 0 to 2000 N.m
    Errors: TradeError `out-of-range`. Source: VDI 2230-1.

    >>> from docgen.trade.threads import thread
    >>> round(preload_n(thread("M8x1"), Seat(11.63, 9), 0.12, 26.1) / 1000, 1)  # table: 20.2 kN
    20.2
    """
    check_range("torque", torque, 0, 2000, "N.m")
    return torque * 1000 / _lever_mm(thread, seat, mu)


def _lever_mm(thread: Thread, seat: Seat, mu: float) -> float:
    check_range("friction coefficient", mu, 0.04, 0.40)
    return 0.16 * thread.pitch_mm + 0.58 * thread.pitch_diameter_mm * mu + seat.mean_mm / 2 * mu


@dataclass(frozen=True)
class Joint:
    """One screw as it is tightened: everything that its torque depends on.

    strip : what the thread in the boss carries; None where the screw runs in a full nut of its own class
    """

    thread: Thread
    screw: PropertyClass
    friction: Friction
    seat: Seat
    strip: StripLoad | None = None

    @property
    def proof_n(self) -> float:
        """The screw's proof load, or its 0.2 % yield load, N."""
        return self.screw.proof_load_n(self.thread)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was taken as true, for the sheet."""
        joint = [
            f"{self.thread}, class {self.screw.name}",
            f"{self.friction.says}: friction {self.friction.low:g} to {self.friction.high:g} in thread and under head",
            f"bearing face {self.seat.face_mm:g} mm on a {self.seat.hole_mm:g} mm hole ({self.seat.says})",
            self.strip.says if self.strip else "full nut of the screw's own class",
        ]
        return tuple(joint)


@dataclass(frozen=True)
class Estimate:
    """A computed torque, to be printed as an estimate and never as the maker's.

    torque           : N.m with its tolerance; its upper end never exceeds `ceiling_nm`
    ceiling_nm       : the torque at which the weaker side has reached what it is allowed, at the lowest friction
    preload_low_kn   : at the lower end of the torque and the highest friction
    preload_high_kn  : at the upper end of the torque and the lowest friction
    share_of_proof   : preload_high over the screw's proof load (or 0.2 % yield load: `proof_means`)
    governs          : `screw`, `boss` or `screw thread`: the side that sets the ceiling
    """

    torque: Band
    ceiling_nm: float
    preload_low_kn: float
    preload_high_kn: float
    share_of_proof: float
    proof_means: str
    governs: str
    assumptions: tuple[str, ...]
    source: str


def estimate(
    joint: Joint,
    *,
    tolerance_percent: Decimal = Decimal(10),
    step_nm: Decimal = Decimal("0.5"),
    strip_margin: float = STRIP_MARGIN,
) -> Estimate:
    """Return the highest torque that neither the screw nor the boss minds, with its tolerance.

    The ceiling on the preload is the lowest of: 90 % of yield under tension and twist; the proof load; the strip load
    over `strip_margin`. The torque is computed for the lowest friction of the range, so that a slippery screw is not
    overloaded; a rougher one gets less preload. The nominal torque is rounded down to `step_nm`, and its upper end
    stays at or below the ceiling.

    tolerance_percent : 0 to 50
    step_nm           : what the wrench can be set to, 0.01 to 50 N.m
    strip_margin      : 1 to 10
    Errors: TradeError `out-of-range`; `torque-too-small` when less than one step remains.
    Sources: VDI 2230-1, FED-STD-H28/2B; the strip margin of 2 is our choice.

    >>> from docgen.trade.friction import friction, seat
    >>> from docgen.trade.materials import property_class
    >>> from docgen.trade.threads import thread
    >>> screw = property_class("8.8")
    >>> found = estimate(Joint(thread("M6"), screw, friction("oiled", screw), seat(thread("M6"))))
    >>> print(found.torque, "|", round(found.ceiling_nm, 1), "|", found.governs)
    6.5 N.m +/- 10 % | 7.7 | screw
    """
    check_range("tolerance", float(tolerance_percent), 0, 50, "%")
    check_range("step of the wrench", float(step_nm), 0.01, 50, "N.m")
    check_range("margin against stripping", strip_margin, 1, 10)
    limits = {"screw": min(screw_preload_n(joint.thread, joint.screw, joint.friction.low), joint.proof_n)}
    if joint.strip:
        limits[joint.strip.side] = joint.strip.load_n / strip_margin
    governs = min(limits, key=lambda side: limits[side])
    ceiling = torque_nm(joint.thread, joint.seat, joint.friction.low, limits[governs])
    spread = tolerance_percent / 100
    steps = (Decimal(ceiling) / (1 + spread) / step_nm).to_integral_value(ROUND_FLOOR)
    nominal = steps * step_nm
    if nominal <= 0:
        raise TradeError(
            "torque-too-small", f"the torque would be below {ceiling:.2g} N.m, less than one step of {step_nm} N.m"
        )
    low, high = nominal * (1 - spread), nominal * (1 + spread)
    high_n = preload_n(joint.thread, joint.seat, joint.friction.low, float(high))
    return Estimate(
        torque=Band(low, high, "N.m", nominal, f"{nominal} N.m +/- {tolerance_percent} %"),
        ceiling_nm=ceiling,
        preload_low_kn=preload_n(joint.thread, joint.seat, joint.friction.high, float(low)) / 1000,
        preload_high_kn=high_n / 1000,
        share_of_proof=high_n / joint.proof_n,
        proof_means=joint.screw.proof_means,
        governs=governs,
        assumptions=(*joint.assumptions, f"margin of {strip_margin:g} against stripping")
        if joint.strip
        else joint.assumptions,
        source="; ".join([SOURCE, joint.friction.source, *([joint.strip.source] if joint.strip else [])]),
    )


@dataclass(frozen=True)
class TorqueCheck:
    """What a given torque does to a screw and its boss.

    verdict        : `plausible`; `may-overload` at low friction; `overloads` even at high friction; `slack` when even
                     at low friction it gives less than a fifth of the proof load (a slip of unit or of digit)
    side           : which side is overloaded, "" otherwise
    preload_low_kn  : at the lower end of the torque and the highest friction
    preload_high_kn : at the upper end and the lowest friction
    share_low, share_high : of the proof load
    """

    verdict: str
    side: str
    preload_low_kn: float
    preload_high_kn: float
    share_low: float
    share_high: float
    says: str


def check_torque(joint: Joint, torque: Band) -> TorqueCheck:
    """Check a given torque: does it break the screw, strip the boss, or leave the screw slack?

    A screw counts as overloaded when tension and twist together pass its yield stress; a boss when the preload passes
    its strip load. No margin is taken: this finds figures that are wrong, not figures that are bold.
    Errors: TradeError `open-torque` when the band has no upper end; `out-of-range`; QuantityError for another unit.
    Source: VDI 2230-1 for the screw, FED-STD-H28/2B for the boss; a fifth of the proof load as slack is our choice.

    >>> from docgen.trade.friction import friction, seat
    >>> from docgen.trade.materials import property_class
    >>> from docgen.trade.quantity import parse_band
    >>> from docgen.trade.threads import thread
    >>> screw = property_class("8.8")
    >>> joint = Joint(thread("M6"), screw, friction("oiled", screw), seat(thread("M6")))
    >>> [check_torque(joint, parse_band(text)).verdict for text in ("6.5 N.m +/- 10 %", "25 N.m", "0.9 N.m")]
    ['plausible', 'overloads', 'slack']
    """
    band = torque.to("N.m")
    if band.high is None:
        raise TradeError("open-torque", f'the torque "{torque}" has no upper end', "write a figure with a tolerance")
    low_nm, high_nm = float(band.low if band.low is not None else band.high), float(band.high)
    gentle = preload_n(joint.thread, joint.seat, joint.friction.high, low_nm)
    harsh = preload_n(joint.thread, joint.seat, joint.friction.low, high_nm)
    shares = (gentle / joint.proof_n, harsh / joint.proof_n)

    def result(verdict: str, side: str, says: str) -> TorqueCheck:
        return TorqueCheck(verdict, side, gentle / 1000, harsh / 1000, *shares, says)

    if side := _overloaded(joint, gentle, joint.friction.high):
        return result("overloads", side, f"{torque} overloads the {side} whatever the friction")
    if side := _overloaded(joint, harsh, joint.friction.low):
        return result("may-overload", side, f"{torque} overloads the {side} when the friction is low")
    if shares[1] < 0.2:
        share = f"{shares[1] * 100:.0f} % of the {joint.screw.proof_means}"
        return result("slack", "", f"{torque} gives at most {share}: is the unit right?")
    return result("plausible", "", f"{torque} is plausible")


def _overloaded(joint: Joint, preload: float, mu: float) -> str:
    if joint.strip and preload > joint.strip.load_n:
        return joint.strip.side
    return "screw" if preload > screw_preload_n(joint.thread, joint.screw, mu, share=1) else ""
