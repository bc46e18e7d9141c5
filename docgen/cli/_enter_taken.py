"""The first question of a sheet that is typed in: whether all is as it asks for; and the checks after the first run."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import click

from docgen.cli._asking import answer
from docgen.cli._filing import filed_line
from docgen.club.folder import Folder
from docgen.club.log import Held
from docgen.club.schema.event import Service
from docgen.job.state import state_of
from docgen.returns.afterrun import after_run_event
from docgen.returns.brief import Signed, excepted, initials_of, taken
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import file_event
from docgen.returns.identity import Sheet
from docgen.returns.writing import one_line, read_date, read_hours

SO = """\
All so?  y       yes
         n       no: ask for every box
         17b worn; 39a not renewed      yes, but for these rows of the sheet
         date 28.11.2026, hours 12.4, by Jo Ash, initials JA      to change that"""


def ask_taken(sheet: Sheet, by: str | None, on: date) -> tuple[dict[str, str], bool]:
    """What is taken as the sheet asks for, and whether that is right: else every box is asked for."""
    services = sheet.record.log.of(Service)
    wrenches = {item: told.wrench for one in services for item, told in one.torques.items() if told.wrench}
    signed = _signed(sheet, by, on)
    while True:
        all_well = taken(sheet.job, signed, wrenches)
        click.echo("Taken, when all is well:\n" + "\n".join(f"  {line}" for line in all_well.lines))
        typed = one_line(str(click.prompt(f"{SO}\n ", "", prompt_suffix=" ", show_default=False)))
        answers = dict(all_well.answers)
        if typed.casefold() in ("y", "yes"):
            return answers, True
        if typed.casefold() in ("n", "no"):
            return {key: text for key, text in answers.items() if key in ("done-by", "work-completed")}, False
        if re.match(r"\d{1,3}[a-z]{0,2}\b", typed, re.I):
            excepted(sheet.job, typed, answers)
            return answers, True
        try:
            signed = _changed(signed, typed)
        except Refused as refused:
            click.echo(f"  {refused.said.message}" + (f": {refused.said.hint}" if refused.said.hint else ""))


def _signed(sheet: Sheet, by: str | None, on: date) -> Signed:
    """Who did it, as far as somebody says so; the day and the engine's hours as they stand today."""
    state = state_of(sheet.record, on)
    usual = by or next((one.by for one in reversed(list(sheet.record.log.of(Service))) if one.by), None)
    name = one_line(answer("--by", "Work done and released by (name)", by, one_line, usual))
    return Signed(on, f"{float(state.hours):.1f}" if state.hours_known else "", name, initials_of(name))


def _changed(signed: Signed, typed: str) -> Signed:
    word, _, rest = typed.partition(" ")
    if word == "date" and (day := read_date(rest)[0]) is not None:
        return replace(signed, day=day)
    if word == "hours":
        return replace(signed, hours=str(read_hours(rest).quantity).removesuffix(" h"))
    if word == "by" and rest:
        return replace(signed, by=rest, initials=initials_of(rest))
    if word == "initials" and rest:
        return replace(signed, initials=rest)
    raise Refused("not-an-answer", f'"{typed[:40]}" is not understood', "y, n, rows of the sheet, or one of the words")


def file_after_run(folder: Folder, sheet: Sheet, held: Held | None, by: str | None, on: date) -> None:
    """Ask for the checks after the first run of a sheet that was filed, and file them with it. Errors: Refused."""
    if held is None or not isinstance(held.event, Service):
        raise Refused("not-filed", f"{sheet.text} is not filed yet", f"file it first: docgen enter {sheet.text}")
    checks = sheet.job.instructions.after_run
    if not checks:
        raise Refused("no-such-checks", f"{sheet.text} has no checks after the first run", "there is nothing to add")
    for check in checks:
        click.echo(f"  {check.text}" + (f"  ({check.accept})" if check.accept else ""))
    name = one_line(answer("--by", "Checked by (name)", by, one_line, held.event.by))
    ran = one_line(answer("", "How long it ran (empty: not noted)", None, one_line, ""))
    if not click.confirm(f"All {len(checks)} made on {on.isoformat()}, and good?"):
        raise Refused("not-all-good", "what is not good is a finding", f"docgen note finding {sheet.number.engine} ...")
    event = after_run_event(held, checks, on, name, ran)
    click.echo(filed_line(folder.root, file_event(folder.root, sheet.number.engine, event)))
