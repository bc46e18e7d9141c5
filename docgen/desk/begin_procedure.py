"""A job begun: a file with one step as an example, and the engine's names as notes."""

import re
from collections.abc import Collection, Iterable, Iterator
from datetime import date
from textwrap import wrap

from docgen.club.folder import Faulty, Folder
from docgen.club.problem import did_you_mean
from docgen.club.read import read_club
from docgen.club.schema.base import Name, Text, Time, Whole
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Code
from docgen.desk.asking import Asks, Check, answer
from docgen.desk.beginning import Typed, filled, fits, known_equipment, refuse_existing, write_new
from docgen.desk.choosing import Unclear
from docgen.desk.system import short_path
from docgen.proof import proof_all


def begin_procedure(who: Asks, folder: Folder, name: str, dated: date, **given: str | None) -> None:
    """Write ``procedures/NAME.yaml``; what is not given is asked.

    dated : the day of its first revision
    given : title, code, author, needs (equipment that an engine must have for it), every (as in ``5 h 6 months``)
    Errors: Unclear; Unwritten; Faulty where a file cannot be read, or what would be written has faults.
    """
    fits(Name)(name)
    path = f"procedures/{name}.yaml"
    _all_read(folder)
    refuse_existing(folder.root, path)
    called = answer(who, given, "title", "What the job is called", fits(Text), name.replace("-", " ").capitalize())
    equipment = known_equipment(folder)
    question = f"Equipment that an engine must have for it ({', '.join(equipment)}; empty: every engine)"
    often = "How often, as 5 h or 6 months (empty: when it is wanted)"
    said = {
        "title": Typed(called),
        "code": answer(who, given, "code", "Its code, three letters", _free(folder), _suggested(name, folder)),
        "author": Typed(answer(who, given, "author", "Who writes it", fits(Text), folder.club.value.club)),
        "needs": answer(who, given, "needs", question, _of(equipment), "").split(),
        "every": _every(answer(who, given, "every", often, _interval, "")),
    }
    models = [m.value for _, m in sorted(folder.models.items()) if set(said["needs"]) <= set(m.value.equipment)]
    data = filled("procedure", procedure=name, dated=dated.isoformat(), crib=list(_crib(models)), **said)
    made = read_club(folder.root, instead={path: data})
    _all_read(made)
    found = [one for one in [*made.problems, *proof_all(made, only={name})] if one.path == path]
    if [one for one in found if one.level == "error"]:
        raise Faulty(found)
    write_new(folder.root, {path: data})
    who.say(f"{called}, sheet code {said['code']}: {short_path(folder.root / path)}")
    who.say(f"Next: write its steps, then  docgen proof {name}   and   docgen print NUMBER --job {said['code']}")


def _all_read(folder: Folder) -> None:
    """See that no file is unread: a code that it has would be given twice, and its names be missing. Errors: Faulty."""
    if unread := [one for one in folder.problems if one.name == "unreadable-file"]:
        raise Faulty(unread)


def _free(folder: Folder) -> Check:
    """Whether a code is one, and nobody else's."""
    right = fits(Code)

    def check(text: str) -> str:
        code = right(text.upper())
        if code in folder.codes:
            raise Unclear(f"{code} is already the code of {folder.codes[code]}")
        return code

    return check


def _of(equipment: Collection[str]) -> Check:
    """Whether every word is equipment that an engine type of the club has."""

    def check(text: str) -> str:
        for word in text.split():
            if word not in equipment:
                raise Unclear(f'no engine type of the club has "{word}"; {did_you_mean(word, equipment)}')
        return text

    return check


_EVERY = re.compile(r"(?:(?P<hours>[0-9.]+) ?h)?(?:(?:,| or)? ?(?P<months>[0-9]+) ?months?)?", re.ASCII)


def _interval(text: str) -> str:
    if not _EVERY.fullmatch(text.strip()):
        raise Unclear(f'"{text}" is not understood; write 5 h, 6 months, or 5 h 6 months')
    _every(text)
    return text


def _every(text: str) -> str:
    """The interval as it stands in the file."""
    found = _EVERY.fullmatch(text.strip())
    assert found is not None
    hours = f"hours: {fits(Time)(found['hours'] + ' h')}" if found["hours"] else ""
    months = f"months: {fits(Whole)(found['months'])}" if found["months"] else ""
    return ", ".join(part for part in (hours, months) if part)


def _crib(models: Iterable[Model]) -> Iterator[str]:
    """The names that the steps may use, of the first engine type that the job is for."""
    for model in models:
        for what, names in (("parts", model.parts), ("fasteners", model.fasteners), ("limits", model.limits)):
            if names:
                listed = f"{what} of {model.model}: {', '.join(names)}"
                yield from wrap(listed, 112, subsequent_indent="  ", break_on_hyphens=False)
        return


def _suggested(name: str, folder: Folder) -> str:
    """Three letters made from a name that no job has: its first three, else others of its letters, in their order."""
    letters = re.sub("[^a-z]", "", name).upper() or "JOB"
    for second in range(1, len(letters)):
        for third in range(second + 1, len(letters)):
            if (code := letters[0] + letters[second] + letters[third]) not in folder.codes:
                return code
    spare = (a + b + c for a in letters for b in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return next(code for code in spare if code not in folder.codes)
