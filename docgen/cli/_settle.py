"""What the filing commands share: show what was understood, ask what must be asked, write it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Literal

import click

from docgen.cli._filing import filed_line
from docgen.club.folder import Folder
from docgen.club.log import Entry, Held
from docgen.club.schema.event import Service
from docgen.club.store import StoreError
from docgen.desk.choosing import sound
from docgen.desk.filing import Paper, looked, not_written, stays_open, understood, waiting, write
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.identity import Sheet
from docgen.returns.parts import OfPart, parts
from docgen.returns.reading import Understood
from docgen.returns.refiling import taken_away
from docgen.returns.report import said_lines, shown

State = Literal["filed", "corrected", "already filed", "not filed"]


@dataclass(frozen=True)
class Wishes:
    """How to file: without questions, which doubts are settled, why a sheet that was filed before is filed again.

    also : what the paper itself, before its boxes are read, gives cause to say
    """

    today: date
    yes: bool = False
    accepted: Collection[str] = ()
    correct: str = ""
    also: tuple[Said, ...] = ()
    say: Callable[[str], None] = click.echo


@dataclass(frozen=True)
class Settled:
    """What became of one sheet. still_open: the box of the first job of a visit that is not complete."""

    state: State
    sheet: str = ""
    engine: str = ""
    said: tuple[Said, ...] = ()
    event: str = ""
    still_open: str = ""


def settle(
    folder: Folder, sheet: Sheet, answers: Mapping[str, str], wishes: Wishes, papers: Sequence[Paper] = ()
) -> Settled:
    """Show a sheet, ask what must be asked, and file it; says what it did. Errors: StoreError, OSError.

    Of the sheet of a visit each complete job is filed by itself, one after the other; where one is not filed, those
    behind it wait, since what is written once for all goes with the first.
    """
    sound(folder, sheet.number.engine)
    try:
        found, still_open = parts(sheet, answers)
    except Refused as refused:
        return refusal(refused, wishes)
    settled: list[Settled] = []
    for one in found:
        settled.append(_settle(folder, one, wishes, papers))
        if settled[-1].state == "not filed":
            if behind := waiting(found[len(settled) :]):
                wishes.say(behind)
            break
    for part in still_open:
        wishes.say(stays_open(part))
    said = tuple(said for one in settled for said in one.said)
    state = min((one.state for one in settled), key=_ORDER.index)
    event = ", ".join(one.event for one in settled if one.event)
    box = next((part.box for part in still_open), "")
    return replace(settled[0], state=state, said=said, event=event, still_open=box)


_ORDER: tuple[State, ...] = ("not filed", "corrected", "filed", "already filed")
"""Of the jobs of a visit, whose state counts for the sheet."""


def _settle(folder: Folder, part: OfPart, wishes: Wishes, papers: Sequence[Paper]) -> Settled:
    sheet = part.sheet
    look = looked(folder, part, wishes.today, wishes.also)
    one, held = look.one, look.held
    if held and look.already:
        wishes.say(look.already)
        return Settled("already filed", sheet.text, sheet.number.engine, one.said, held.entry.file)
    wishes.say("\n".join((*shown(one), *said_lines(one.said))))
    if one.refused:
        return _not(one, wishes, "Not filed: put right what is refused above, then file it again.")
    if held is not None and not wishes.correct:
        return _not(one, wishes, f'{look.differs}\n  To put it in the place of the first: --correct "WHY"')
    if not _confirmed(one, wishes) or (held is not None and not _given_up(held, one, wishes)):
        return _not(one, wishes, "Not filed.")
    if one.event.get("findings") and not wishes.yes:
        one = understood(folder, part, wishes.today, wishes.also, _closed(one, held))
    if not wishes.yes and not click.confirm(f"Write this into the record of engine {sheet.number.engine}?"):
        return _not(one, wishes, "Not filed.")
    return _write(folder.root, one, wishes, held.entry if held else None, papers)


def _write(root: Path, one: Understood, wishes: Wishes, before: Entry | None, papers: Sequence[Paper]) -> Settled:
    filed = write(root, one, papers, wishes.today, before, wishes.correct)
    wishes.say(filed_line(root, filed))
    state: State = "already filed" if not filed.new else "filed" if before is None else "corrected"
    return Settled(state, one.sheet.text, one.sheet.number.engine, one.said, filed.path.name)


def _confirmed(one: Understood, wishes: Wishes) -> bool:
    """Whether every doubt is settled: by its name on the command line, or by somebody who answers now."""
    for doubt in one.doubts:
        if doubt.name in wishes.accepted:
            continue
        if wishes.yes:
            wishes.say(f"  --yes does not settle a doubt; --accept {doubt.name} does, once somebody has looked.")
            return False
        if not click.confirm(f"{doubt.name}: file it as it stands?"):
            return False
    return True


TAKE_AWAY = "take away"


def _given_up(held: Held, one: Understood, wishes: Wishes) -> bool:
    """Whether nothing is lost that was filed before, or somebody says in a word of its own that it is to be."""
    lost = taken_away(held, one.event)
    if not lost:
        return True
    wishes.say("\n".join(("This takes out of the record what was filed:", *(f"  {one_}" for one_ in lost))))
    if "takes-away" in wishes.accepted:
        return True
    if wishes.yes:
        wishes.say("  --yes does not take anything out; --accept takes-away does.")
        return False
    typed = click.prompt(f"Type  {TAKE_AWAY}  to have it so; Enter to leave all as it is", "", show_default=False)
    return str(typed).strip().casefold() == TAKE_AWAY


def _closed(one: Understood, held: Held | None = None) -> frozenset[int]:
    """Which of the findings need nothing more; of a sheet filed before, those that needed nothing then."""
    findings = one.event["findings"]
    if held is not None and isinstance(held.event, Service):
        before = {*held.event.findings, *held.event.remarks}
        if all(text in before for text in findings):
            return frozenset(n for n, text in enumerate(findings, 1) if text in held.event.remarks)
    count = len(findings)
    while True:
        typed = click.prompt("Which findings need nothing more? Their numbers; Enter for none", "", show_default=False)
        numbers = typed.replace(",", " ").split()
        if all(number.isdecimal() and 1 <= int(number) <= count for number in numbers):
            return frozenset(map(int, numbers))
        click.echo(f"  {_there(count)}")


def _there(count: int) -> str:
    return "There is one: type 1." if count == 1 else f"There are {count}: type their numbers, as in 1 2."


def _not(one: Understood, wishes: Wishes, why: str) -> Settled:
    wishes.say(why)
    return Settled("not filed", one.sheet.text, one.sheet.number.engine, one.said)


def refusal(why: Refused | StoreError | OSError, wishes: Wishes) -> Settled:
    """Say why a paper is no sheet that can be filed, or why it could not be kept."""
    said = why.said if isinstance(why, Refused) else not_written(why)
    wishes.say("\n".join((*said_lines((said,)), "Not filed.")))
    return Settled("not filed", said=(said,))
