"""An engine type begun, from one that it is like, or with a few parts as an example."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from docgen.club.fitting import fit_report
from docgen.club.folder import Faulty, Folder
from docgen.club.likeness import NoSuchName, like
from docgen.club.read import read_club
from docgen.club.schema.base import AnyQuantity, Name, Text
from docgen.club.yamldoc import Data
from docgen.desk.asking import Asks, answer
from docgen.desk.beginning import Typed, each, filled, fits, known_equipment, one_of, refuse_existing, write_new
from docgen.desk.choosing import Unclear
from docgen.desk.system import short_path
from docgen.share.layout import to_text


def begin_model(
    who: Asks, folder: Folder, name: str, other: str | None = None, differs: Sequence[str] = (), **given: str | None
) -> None:
    """Write ``models/NAME.yaml``, and say which of the club's jobs fit the type; what is not given is asked.

    other   : an engine type that it is like
    differs : from that, as in ``clutch-nut catch=clip``
    given   : title, manual, displacement, equipment; like another also without (of its equipment) and figures, ``same``
              or ``blank``
    Errors: Unclear; Unwritten; Faulty where what would be written has faults.
    """
    fits(Name)(name)
    path = f"models/{name}.yaml"
    refuse_existing(folder.root, path)
    if other is not None:
        one_of(sorted(folder.models), "engine type")(other)
    called = answer(who, given, "title", "What it is called", fits(Text), name.replace("-", " ").capitalize())
    volume = "Swept volume, as 99.8 cm3 (empty: not known)"
    said = {
        "title": Typed(called),
        "manual": Typed(answer(who, given, "manual", "The maker's manual", fits(Text), f"{called} manual")),
        "displacement": answer(who, given, "displacement", volume, fits(AnyQuantity, blank=True), ""),
    }
    if other is not None:
        told = _likeness(who, given, folder, other, differs)
    else:
        told = {"equipment": _equipment(who, given, folder, name), "like": "", "figures": "", "rest": ""}
    data = filled("model", model=name, **told, **said)
    made = read_club(folder.root, instead={path: data})
    if wrong := [problem for problem in made.problems if problem.path == path and problem.level == "error"]:
        raise Faulty(wrong)
    write_new(folder.root, {path: data})
    who.say(f"Engine type {called}: {short_path(folder.root / path)}")
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


def _equipment(who: Asks, given: Given, folder: Folder, name: str) -> list[str]:
    others = ", ".join(known_equipment(folder)) or "none yet"
    question = f"What it has, in words that jobs ask for (other types: {others})"
    return answer(who, given, "equipment", question, _words, name).split()


def _words(text: str) -> str:
    """Names with spaces between."""
    if not text.split():
        raise Unclear("name at least one thing that it has")
    return each(fits(Name))(text)


Given = Mapping[str, str | None]
Changes = dict[str, dict[str, Data]]
Made = Callable[[Changes], dict[str, Data]]


def _likeness(
    who: Asks, given: Given, folder: Folder, other: str, differs: Sequence[str]
) -> dict[str, Any]:
    """Ask what differs from an engine type of the club; what the new file holds. Errors: Unclear, Unanswered."""
    kind = folder.models[other].value
    has = list(kind.equipment)
    question = f"What it has not, of {', '.join(has)} (empty: it has all)"
    less = answer(who, given, "without", question, each(one_of(has, "equipment")), "").split()
    known = [word for word in known_equipment(folder) if word not in has]
    others = f", as {', '.join(known)}" if known else ""
    question = f"What it has besides{others} (empty: nothing)"
    more = answer(who, given, "equipment", question, each(fits(Name)), "").split()
    equipment = [word for word in (*has, *more) if word not in less]
    question = f"Torques, limits and part numbers: the same as the {kind.title}'s, or blank"
    same = answer(who, given, "figures", question, one_of(["same", "blank"], "answer"), "blank") == "same"

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
