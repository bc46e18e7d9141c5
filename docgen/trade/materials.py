"""Strength of screws, nuts and the bosses that they are screwed into."""

import difflib
from dataclasses import dataclass
from functools import cache

from docgen.trade.errors import TradeError, check_range
from docgen.trade.tables import read_table
from docgen.trade.threads import Thread


@dataclass(frozen=True)
class PropertyClass:
    """Least strength of a screw or nut, as marked on it; get it from `property_class`.

    name        : `8.8`, `10.9`, `8` (a nut), `A2-70` ...
    kind        : `screw`, `nut` or `stainless`
    tensile_mpa : Rm,min      yield_mpa : ReL, Rpf or Rp0.2, min
    proof_mpa   : Sp; None for stainless classes, for which ISO 3506-1 gives none

    A nut class stands for the strongest screw class that it may be paired with.
    Valid for M2.5 to M16. Sources: ISO 898-1, ISO 898-2, ISO 3506-1.
    """

    name: str
    kind: str
    tensile_mpa: float
    yield_mpa: float
    proof_mpa: float | None
    source: str

    def proof_load_n(self, thread: Thread) -> float:
        """Return the load up to which nothing is lengthened for good, N: Sp As; Rp0.2 As where there is no Sp.

        >>> from docgen.trade.threads import thread
        >>> round(property_class("8.8").proof_load_n(thread("M8")), -2)  # ISO 898-1 table 5: 21 200
        21200.0
        """
        check_range("thread diameter", thread.d_mm, 2.5, 16, "mm")
        return (self.proof_mpa or self.yield_mpa) * thread.stress_area_mm2

    @property
    def proof_means(self) -> str:
        """What `proof_load_n` stands for."""
        return "proof load" if self.proof_mpa else "0.2 % yield load"


@cache
def property_classes() -> dict[str, PropertyClass]:
    """Return every known property class by its marking.

    Errors: none. Source: each row's own.

    >>> property_classes()["8.8"].tensile_mpa
    800.0
    """
    return {
        row["class"]: PropertyClass(
            row["class"],
            row["kind"],
            float(row["tensile_mpa"]),
            float(row["yield_mpa"]),
            float(row["proof_mpa"]) if row["proof_mpa"] else None,
            row["source"],
        )
        for row in read_table("property_classes")
    }


def property_class(name: str) -> PropertyClass:
    """Return the property class of a marking.

    Errors: TradeError `unknown-property-class`, with the nearest one. Source: each row's own.

    >>> property_class("10.9").yield_mpa
    940.0
    """
    if name in property_classes():
        return property_classes()[name]
    raise TradeError(
        "unknown-property-class", f'"{name}" is not a known property class', _near(name, property_classes())
    )


@dataclass(frozen=True)
class Boss:
    """What a screw is screwed into: its shear strength and the length of thread that is engaged.

    material   : for the reader
    shear_mpa  : tau_B, ultimate shear strength, 5 to 1000 MPa
    engaged_mm : length of full thread engaged (without the chamfers of screw and hole)
    """

    material: str
    shear_mpa: float
    engaged_mm: float
    source: str = "given"

    def __post_init__(self) -> None:
        check_range("shear strength of the boss", self.shear_mpa, 5, 1000, "MPa")
        check_range("engaged length", self.engaged_mm, 0.5, 60, "mm")


@cache
def boss_materials() -> tuple[str, ...]:
    """Return the names of the boss materials whose shear strength is known.

    Errors: none. Source: each row's own.

    >>> "AZ91" in boss_materials()
    True
    """
    return tuple(row["material"] for row in read_table("boss_materials"))


def boss(material: str, engaged_mm: float) -> Boss:
    """Return a boss of a known material.

    Plastics are not in the table: their strength depends on grade, water and heat, and must be given.
    engaged_mm : 0.5 to 60
    Errors: TradeError `unknown-boss-material`, `out-of-range`. Source: each row's own, handed on with the boss.

    >>> boss("AZ91", 12).shear_mpa
    140.0
    """
    for row in read_table("boss_materials"):
        if row["material"] == material:
            source = f"{row['source']}; {row['basis']}"
            return Boss(f"{material} ({row['family']})", float(row["shear_mpa"]), engaged_mm, source)
    hint = f"{_near(material, boss_materials())}; or give the shear strength"
    raise TradeError("unknown-boss-material", f'the shear strength of "{material}" is not known', hint)


def _near(name: str, names: dict[str, PropertyClass] | tuple[str, ...]) -> str:
    near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
    return f"did you mean {near[0]}?" if near else f"known: {', '.join(names)}"
