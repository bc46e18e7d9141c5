"""An engine type begun, from one that it is like, or with a few parts as an example."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from docgen.club.fitting import fit_report
from docgen.club.folder import Faulty, Folder
from docgen.club.likeness import NoSuchName, like
from docgen.club.read import read_club
from docgen.club.schema.base import AnyQuantity, Name, Text
from docgen.club.yamldoc import Data
from docgen.desk.answers import answer, each, fits, one_of
from docgen.desk.asking import Asks
from docgen.desk.beginning import Typed, filled, known_equipment, refuse_existing, write_new
from docgen.desk.choosing import Unclear
from docgen.desk.system import shown
from docgen.share.layout import to_text


def begin_model(
    who: Asks, folder: Folder, name: str, *, title: str | None = None, manual: str | None = None,
    displacement: str | None = None, other: str | None = None, equipment: str | None = None,
    without: str | None = None, figures: str | None = None, differs: Sequence[str] = (),
) -> None:  # fmt: skip
    """Write ``models/NAME.yaml``, and say which of the club's jobs fit the type; what is not given is asked.

    other   : an engine type that it is like; then of its `equipment` it is `without` some, its `figures` are ``same``
              or ``blank``, and `differs` says the rest, as in ``clutch-nut catch=clip``
    Errors: Unclear; Unwritten; Faulty where what would be written has faults.
    """
    fits(Name)(name)
    path = f"models/{name}.yaml"
    refuse_existing(folder.root, path)
    if other is not None:
        one_of(sorted(folder.models), "engine type")(other)
    called = answer(who, "--title", "What it is called", title, fits(Text), name.replace("-", " ").capitalize())
    volume = "Swept volume, as 99.8 cm3 (empty: not known)"
    said = {
        "title": Typed(called),
        "manual": Typed(answer(who, "--manual", "The maker's manual", manual, fits(Text), f"{called} manual")),
        "displacement": answer(who, "--displacement", volume, displacement, fits(AnyQuantity, blank=True), ""),
    }
    if other is not None:
        told = _likeness(who, folder, other, equipment, without, figures, differs)
    else:
        told = {"equipment": _equipment(who, folder, name, equipment), "like": "", "figures": "", "rest": ""}
    data = filled("model", model=name, **told, **said)
    made = read_club(folder.root, instead={path: data})
    if wrong := [problem for problem in made.problems if problem.path == path and problem.level == "error"]:
        raise Faulty(wrong)
    write_new(folder.root, {path: data})
    who.say(f"Engine type {called}: {shown(folder.root / path)}")
    _report(who, made, name)


def _report(who: Asks, made: Folder, name: str) -> None:
    """Which jobs fit, and what the others lack."""
    report = fit_report(made, name)
    fitting = [line.partition(" ")[0] for line, lacks in report if not lacks]
    if fitting:
        who.say(f"Jobs that fit it: {', '.join(fitting)}")
    for line, lacks in report:
        if lacks:
            who.say(f"  {line}")
    if len(fitting) < len(report):
        who.say("A job that lacks names is left out for this type until they stand in its file.")
    if not report:
        who.say("No job of the club is for it yet: the words of equipment in its file say which are.")
    if fitting:
        who.say(f"Next:  docgen new engine NUMBER   then   docgen print NUMBER --job {fitting[0]}")
    else:
        who.say("Next: write its parts and fasteners, then  docgen proof   and   docgen new engine NUMBER")


def _equipment(who: Asks, folder: Folder, name: str, given: str | None) -> list[str]:
    others = ", ".join(known_equipment(folder)) or "none yet"
    question = f"What it has, in words that jobs ask for (other types: {others})"
    return answer(who, "--equipment", question, given, _words, name).split()


def _words(text: str) -> str:
    """Names with spaces between."""
    if not text.split():
        raise Unclear("name at least one thing that it has")
    return each(fits(Name))(text)


Changes = dict[str, dict[str, Data]]
Made = Callable[[Changes], dict[str, Data]]


def _likeness(
    who: Asks, folder: Folder, other: str, also: str | None, without: str | None, figures: str | None,
    differs: Sequence[str],
) -> dict[str, Any]:  # fmt: skip
    """Ask what differs from an engine type of the club; what the new file holds. Errors: Unclear, Unanswered."""
    kind = folder.models[other].value
    has = list(kind.equipment)
    question = f"What it has not, of {', '.join(has)} (empty: it has all)"
    less = answer(who, "--without", question, without, each(one_of(has, "equipment")), "").split()
    known = [word for word in known_equipment(folder) if word not in has]
    others = f", as {', '.join(known)}" if known else ""
    question = f"What it has besides{others} (empty: nothing)"
    more = answer(who, "--equipment", question, also, each(fits(Name)), "").split()
    equipment = [word for word in (*has, *more) if word not in less]
    question = f"Torques, limits and part numbers: the same as the {kind.title}'s, or blank"
    same = answer(who, "--figures", question, figures, one_of(["same", "blank"], "answer"), "blank") == "same"

    def made(changes: Changes) -> dict[str, Data]:
        return like(folder, other, equipment, changes, figures=same)

    changes = _changes(made, differs) if differs or who.quiet else _asked(who, made)
    told = "same" if same else "blank"
    return {"equipment": equipment, "like": kind.title, "figures": told, "rest": to_text(made(changes))}


def _asked(who: Asks, made: Made) -> Changes:
    """Ask for one difference after the other, until there is none."""
    said: list[str] = []

    def check(text: str) -> str:
        if text.strip():
            _changes(made, [*said, text])
        return text.strip()

    while True:
        question = "What differs, as in  clutch-nut drive=hex 19 mm  (empty: nothing more)"
        found = who.typed(question, "", check)
        if not found:
            return _changes(made, said)
        said.append(found)


def _changes(made: Made, said: Iterable[str]) -> Changes:
    changes: Changes = {}
    for one in said:
        name, _, rest = one.strip().partition(" ")
        key, is_, value = rest.partition("=")
        if not is_ or not key.strip() or not value.strip():
            hint = "write a name, then what of it, as in clutch-nut catch=clip"
            raise Unclear(f'"{one}" is not understood; {hint}')
        changes.setdefault(name, {})[key.strip()] = _value(value.strip())
    try:
        made(changes)
    except NoSuchName as error:
        raise Unclear(str(error)) from None
    return changes


def _value(text: str) -> Data:
    if text.startswith("[") and text.endswith("]"):
        return [one.strip() for one in text[1:-1].split(",")]
    return text
