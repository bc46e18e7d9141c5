"""The safety sheet: each material of the register, what its label usually says, and what that asks of its user.

It takes the place of nothing: the product's own safety data sheet, its label and local rules come first.
"""

from datetime import date
from typing import NamedTuple

from docgen.club.folder import Read
from docgen.club.problem import Problem
from docgen.club.schema.club import Club, Material
from docgen.club.words import Words, message
from docgen.sheets.composition import WALL, desk_page
from docgen.sheets.figures import capital
from docgen.sheets.measure import lines_of
from docgen.sheets.page import PAPERS, Page
from docgen.sheets.signals import SIGNAL_WORDS, SIGNALS, alert, hazards, symbol
from docgen.trade.hazard_statements import Statement, codes, split, statement

NUMBER = 26.0
"""Room that the page's number takes of the foot, mm."""
SMALL, FINE = 3.0, 2.47
"""Type sizes of the foot, mm, as in ``desk.css.j2``."""
HAZARD_SIGNS = {"fuel": "flame", "solvent": "flame", "skin": "skin", "eyes": "eye", "fumes": "breath"}
"""The picture of a hazard of the register that no statement of its own stands for."""
_FIRST = message(
    "The safety data sheet and the label of the product in hand come first, then local rules. Where they differ "
    "from this sheet, this sheet is wrong: have it mended."
)
_SILENT = message("Also named in the register, with nothing on record: {names}.")
_KEEP = {
    "flame": message(
        "No flame, spark, heater or hot part near it, and nobody smokes. Can shut, wet cloths under a "
        "lid. On fire: everybody out, call the fire brigade. Never water on burning fuel."
    ),
    "can": message("Out of the sun and below 50 °C. Do not pierce or burn it, not even when it is empty."),
    "mouth": message("Never siphon with the mouth. Swallowed: make nobody vomit; call the poison centre at once."),
    "skin": message(
        "Gloves that stand up to it. Wash splashes off at once, change soaked clothes. A rash: to a doctor."
    ),
    "eye": message("Eye protection. A splash: rinse with water for many minutes, lenses out, then a doctor."),
    "breath": message("Outdoors or in moving air only. Dizzy: out into fresh air, and tell somebody."),
    "long": message("As little as will do, gloves on, out of the breath. Never for cleaning parts or hands."),
    "water": message("Nothing of it into drain, soil or water. Collect it, rags and all."),
}
"""What each picture asks for: our own words, after the precautions of the same tables of CLP."""
_GRAVEST = ("danger", "warning", "")
_LOOK_UP = (
    "copy it from section 2 of the product's data sheet, or write the words without a code: they are then printed "
    "as the club's own"
)


class Entry(NamedTuple):
    """One material.

    word : the gravest signal word of its statements, empty where none has any
    told : its lines: the code of a statement, its words, and where those are from
    """

    name: str
    word: str
    told: list[tuple[str, str, str]]
    signs: tuple[str, ...]
    waste: str


def entry(material: Material, w: Words) -> Entry:
    """What the sheet says of a material. Each sign comes from a statement, or from a hazard that the register names."""
    told = []
    stated: list[Statement] = []
    for line in material.classed:
        code, text = split(line)
        found = [one for single in codes(code) if (one := statement(single))]
        exact = len(found) == 1 and found[0].code == code
        source = (found[0].table if exact else "") or w("not checked against the text")
        told.append((code, text, source if found else w("the club’s words")))
        stated += found
    word = next((word for word in ("danger", "warning") if any(one.signal == word for one in stated)), "")
    signs = {one.symbol for one in stated} | {HAZARD_SIGNS.get(name, "") for name in material.hazards}
    return Entry(capital(material.name), word, told, tuple(n for n in hazards() if n in signs), material.waste or "")


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


def safety_sheet(club: Club, names: tuple[str, ...], on: date) -> Page:
    """The sheet for the materials `names` of the register (all of them when it is empty), the gravest first."""
    w = Words.speaking(club.language)
    chosen = [entry(club.materials[name], w) for name in (names or club.materials)]
    entries = sorted((one for one in chosen if one.signs or one.told), key=lambda one: _GRAVEST.index(one.word))
    silent = [one.name for one in chosen if not (one.signs or one.told)]
    basis = w(
        "Usual classification of such a product, as the club wrote it down. Standard words and signal words: "
        "Regulation (EC) No 1272/2008 (CLP), from the table named; what is not checked against the text says so."
    )
    fine = f"{basis} {w('The symbols are this workshop’s own and are not those of the label.')}"
    room = PAPERS[club.paper].width - 2 * WALL - NUMBER
    lines = SMALL * lines_of(w(_FIRST), room / SMALL) + FINE * lines_of(fine, room / FINE)
    return desk_page(
        "safety", w("Safety sheet"), w("What is used in this workshop"), club, on, w, foot=round(8.0 + 1.25 * lines, 2),
        entries=entries, silent=w(_SILENT, names=", ".join(silent)) if silent else "", precedes=_FIRST, fine=fine,
        sign={name: (said, symbol(name, w(said))) for name, said in hazards().items()},
        keep=_KEEP, signals=SIGNALS, words=SIGNAL_WORDS,
        alert={word: alert(*SIGNALS[word]) for word in ("danger", "warning")},
    )  # fmt: skip
