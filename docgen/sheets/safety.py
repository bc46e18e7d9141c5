"""The safety sheet: each material of the register, what its label usually says, and what that asks of its user.

It takes the place of nothing: the product's own safety data sheet, its label and local rules come first.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from docgen.club.folder import Read
from docgen.club.problem import Problem
from docgen.club.schema.club import Club, Material
from docgen.sheets.desk import WALL, desk_page
from docgen.sheets.drawings.symbols import alert, hazards, symbol
from docgen.sheets.figures import capital
from docgen.sheets.measure import lines_of
from docgen.sheets.page import Page
from docgen.sheets.pagewords import PageWords
from docgen.sheets.paper import PAPERS
from docgen.sheets.signals import SIGNALS
from docgen.trade.hazard_statements import codes, split, statement

NUMBER = 26.0
"""Room that the page's number takes of the foot, mm."""
SMALL, FINE = 3.0, 2.47
"""Type sizes of the foot, mm, as in ``desk.css.j2``."""
HAZARD_SIGNS = {"fuel": "flame", "solvent": "flame", "skin": "skin", "eyes": "eye", "fumes": "breath"}
"""The picture of a hazard of the register that no statement of its own stands for."""
_LOOK_UP = (
    "copy it from section 2 of the product's data sheet, or write the words without a code: they are then printed "
    "as the club's own"
)


@dataclass(frozen=True)
class Told:
    """One line of a material: a statement by its code, and where its standard words are from."""

    code: str
    text: str
    source: str


@dataclass(frozen=True)
class Entry:
    """One material; ``word`` is the gravest signal word of its statements, empty where none has any."""

    name: str
    word: str
    told: tuple[Told, ...]
    signs: tuple[str, ...]
    waste: str


def entry(material: Material, w: PageWords) -> Entry:
    """What the sheet says of a material. Each sign comes from a statement, or from a hazard that the register names."""
    told: list[Told] = []
    signs: list[str] = []
    signals: set[str] = set()
    for line in material.classed:
        code, text = split(line)
        found = [one for single in codes(code) if (one := statement(single))]
        exact = len(found) == 1 and found[0].code == code
        source = (found[0].table if exact else "") or w.from_memory
        told.append(Told(code, text, source if found else w.own_words))
        signs += [one.symbol for one in found]
        signals |= {one.signal for one in found}
    signs += [HAZARD_SIGNS[name] for name in material.hazards if name in HAZARD_SIGNS]
    word = next((word for word in ("danger", "warning") if word in signals), "")
    in_order = tuple(name for name in hazards() if name in signs)
    return Entry(capital(material.name), word, tuple(told), in_order, material.waste or "")


def unknown_codes(register: Read[Club], names: tuple[str, ...]) -> list[Problem]:
    """Each code of the materials `names` (all when empty) that stands for nothing: without it, no signal word and no
    picture, and the sheet would look harmless."""
    found: list[Problem] = []
    for name in names or register.value.materials:
        for at, line in enumerate(register.value.materials[name].classed):
            for code in codes(split(line)[0]):
                if statement(code) is None:
                    message = f'"{code}" is no hazard statement that docgen knows'
                    near = statement(code[:4].upper())
                    meant = f'did you mean "{near.code}"? ' if near else ""
                    hint = f"{meant}{_LOOK_UP}"
                    place = ("materials", name, "classed", at)
                    found.append(register.document.problem(place, "unknown-hazard-code", message, hint))
    return sorted(found)


def safety_sheet(club: Club, names: tuple[str, ...], on: date, words: PageWords | None = None) -> Page:
    """The sheet for the materials `names` of the register (all of them when it is empty), the gravest first."""
    w = words or PageWords.speaking(club.language)
    chosen = [entry(club.materials[name], w) for name in (names or club.materials)]
    entries = sorted((one for one in chosen if one.signs or one.told), key=lambda one: _GRAVEST.index(one.word))
    silent = [one.name for one in chosen if not (one.signs or one.told)]
    return desk_page(
        "safety", w.safety_sheet, w.safety_title, club, on, w,
        foot=_foot(PAPERS[club.paper].width - 2 * WALL - NUMBER, w), entries=entries,
        silent=w.safety_used.format(names=", ".join(silent)) if silent else "",
        sign={name: Markup(symbol(name, w.hazard_signs[name])) for name in hazards()}, signals=SIGNALS,
        alert={word: Markup(alert(*SIGNALS[word])) for word in ("danger", "warning")},
    )  # fmt: skip


def _foot(room: float, w: PageWords) -> float:
    """Height of the foot for its words in any language, mm, with the margin under it."""
    lines = 1.25 * SMALL * lines_of(w.safety_first, room / SMALL)
    return round(8.0 + lines + 1.25 * FINE * lines_of(f"{w.safety_basis} {w.safety_symbols}", room / FINE), 2)


_GRAVEST = ("danger", "warning", "")
