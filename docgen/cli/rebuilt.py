"""Enter that an engine was rebuilt."""

from __future__ import annotations

from datetime import date

import click

from docgen.cli import _options as option
from docgen.cli._filing import asked, say_filed
from docgen.cli._saying import give_up
from docgen.cli.frame import Session
from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.event import REBUILT
from docgen.desk.choosing import engines_named, sound
from docgen.job import wording
from docgen.plan.standing import standing
from docgen.returns.checks import said_again, said_of_day
from docgen.returns.diagnostic import Said
from docgen.returns.filing import file_event
from docgen.returns.report import said_lines


@option.command(
    "Enter that an engine was rebuilt, so that its card may say so.",
    'docgen rebuilt 017 --by "Ada Fenn" --approved-by "Samir Thornbury"', writes=True,
)
@click.argument("number", shell_complete=option.engine_names)
@click.option("--by", required=True, help="Who rebuilt it.")
@click.option("--approved-by", required=True, help="Who approved it to the limits of a new one.")
@click.option("--sheet", "sheets", multiple=True, help="The number of a sheet that shows it; may be repeated.")
@click.option("--date", "day", type=option.Day(), help="The day it was approved.  [default: the day of filing]")
@option.filed_on
def command(
    session: Session, number: str, by: str, approved_by: str, sheets: tuple[str, ...], day: date | None, on: date
) -> None:
    """Enter that engine NUMBER was rebuilt, in the one sense in which its card may count hours since then."""
    folder = session.read()
    (record,) = engines_named(folder, [number])
    sound(folder, number)
    day = day or on
    event: dict[str, object] = {"event": "rebuilt", "date": day.isoformat(), "by": by, "approved_by": approved_by}
    event |= dict.fromkeys(REBUILT, "true")
    event |= {"sheets": list(sheets)} if sheets else {}
    again = said_again(record.log, event)
    said = (*said_of_day(record, day, on), *_new_limits(folder, record, day), *again)
    click.echo("\n".join(said_lines(said)), nl=bool(said))
    if any(one.weight == "refused" for one in said):
        give_up("Nothing was written.")
    if again and not asked(f"{again[0].name}: write it a second time?"):
        give_up("Nothing was written.")
    for name, words in REBUILT.items():
        if not asked(f"Was it {words}?"):
            give_up(f"Nothing was written: an engine that was not {words} was not rebuilt ({name}).")
    say_filed(folder.root, file_event(folder.root, number, event))


def _new_limits(folder: Folder, record: EngineRecord, on: date) -> list[Said]:
    """Readings taken since the engine last ran that are outside the range of new parts."""
    one = standing(folder, record, on)
    found = []
    for each in one.measured:
        last, new = each.readings[-1], each.limit.new
        if new is None or last.at.hours != one.state.hours:
            continue
        if not all(new.contains(value) for value in last.values):
            values = " / ".join(wording.quantity(value) for value in last.values)
            message = f"{each.name}, {values}, is outside the range of new parts, {wording.band(new)}"
            hint = "an engine is approved as rebuilt only to the limits of a new one"
            found.append(Said("refused", "not-to-new-limits", message, hint))
    return found
