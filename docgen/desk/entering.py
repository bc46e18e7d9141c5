"""A sheet that was filled in by pen, typed in by somebody who has it in hand."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.log import SHORT, Held
from docgen.club.schema.event import Service
from docgen.desk.asking import Asks, Page, answer, tell
from docgen.desk.settling import Clerk
from docgen.desk.walking import WORDS, Stopped, ask, file_typed, say_refused
from docgen.job.number import SheetNumber
from docgen.job.state import state_of
from docgen.returns.brief import Signed, brief, excepted, initials_of, taken
from docgen.returns.correcting import after_run_event
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import Filed, file_event
from docgen.returns.identity import IssuedSheet, sheet_numbered, typed_number
from docgen.returns.prompts import prompts
from docgen.returns.refiling import filed_as, refilled
from docgen.returns.report import said_lines
from docgen.returns.walk import Walk, draft_path, load_draft, save_draft
from docgen.returns.writing import one_line, read_date, read_hours

LEAST = 4
"""Fewest digits of an issue that name it."""
ISSUE = re.compile(rf"[0-9a-f]{{{LEAST},64}}")


def enter_sheet(
    who: Asks, folder: Folder, number: str, on: date, *, issue: str = "", correct: str = "", every: bool = False,
    by: str | None = None, page: Page | None = None,
) -> bool:  # fmt: skip
    """Have the sheet of a number typed in, and file it; whether it was.

    issue   : the first digits of its print, where several bear the number
    correct : why it is typed in again that was filed before
    every   : whether each box is asked for
    page    : where somebody looks it through, and not here
    Errors: Faulty, Refused, Stopped, Unanswered, StoreError, OSError.
    """
    sheet = _sheet(who, typed_number(number), folder, issue)
    held = filed_as(sheet)
    if held is not None and not correct:
        raise Refused(
            "already-filed",
            f"{sheet.text} is already filed, as {held.entry.file}",
            'to put another reading of the paper in its place: --correct "WHY"; '
            "to add the checks after the first run: --after-run",
        )
    if page is not None and not (every or correct):
        return bool(page(folder, sheet, on))
    path = draft_path(folder.root, sheet.number)
    walk = _begun(who, sheet, held, path, every, by, on)
    ask(who, walk, path)
    return file_typed(Clerk(who, folder, on, correct), sheet, walk, path).state != "not filed"


def _sheet(who: Asks, number: SheetNumber, folder: Folder, issue: str) -> IssuedSheet:
    """The sheet of a number; where several prints bear it, the one that the paper says."""
    try:
        return sheet_numbered(number, folder, issue=issue)
    except Refused as refused:
        if refused.said.name != "two-prints":
            raise
        who.say("\n".join(said_lines((refused.said,))))
    while not ISSUE.fullmatch(typed := who.typed('Digits behind "issue" at the foot of the paper', "").strip().lower()):
        if typed == "stop":
            raise Stopped(who)
    return sheet_numbered(number, folder, issue=typed)


def _begun(who: Asks, sheet: IssuedSheet, held: Held | None, path: Path, every: bool, by: str | None, on: date) -> Walk:
    """The walk through the sheet, where it stood; a new one begins with what is taken, or with what was filed."""
    told = sheet.job.instructions
    who.say(f"{sheet.text}  {told.title}, engine {told.engine}")
    who.say(f"printed on {sheet.job.issue.on}, issue {sheet.job.issue_digest[:SHORT]}, as at the foot of the paper")
    whole = Walk(prompts(sheet.job))
    drafted = load_draft(path, whole)
    short = Walk(brief(sheet.job), short=True)
    if drafted:
        if whole.short:
            load_draft(path, short)
            short.answers = whole.answers
            whole = short
        who.say(WORDS)
        if whole.current is not None:
            who.say(f"Going on at: {whole.current.row.name}")
        return whole
    if held is not None and isinstance(held.event, Service):
        who.say(f"{WORDS}\nEach box shows what was filed; Enter keeps it.")
        whole.answers = refilled(sheet, held.event)
        return whole
    if every:
        who.say(WORDS)
        return whole
    answers, well = _ask_taken(who, sheet, by, on)
    walk = short if well else whole
    walk.answers = answers
    who.say(WORDS)
    save_draft(path, walk)
    return walk


SO = """\
All so?  y       yes
         n       no: ask for every box
         17b worn; 39a not renewed      yes, but for these rows of the sheet
         date 28.11.2026, hours 12.4, by Jo Ash, initials JA      to change that"""


def _ask_taken(who: Asks, sheet: IssuedSheet, by: str | None, on: date) -> tuple[dict[str, str], bool]:
    """What is taken as the sheet asks for, and whether that is right: else every box is asked for."""
    services = sheet.record.log.of(Service)
    wrenches = {item: told.wrench for one in services for item, told in one.torques.items() if told.wrench}
    signed = _signed(who, sheet, by, on)
    while True:
        all_well = taken(sheet.job, signed, wrenches)
        who.say("Taken, when all is well:\n" + "\n".join(f"  {line}" for line in all_well.lines))
        typed = one_line(who.typed(f"{SO}\n ", "", suffix=" "))
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
            say_refused(who, refused)


def _signed(who: Asks, sheet: IssuedSheet, by: str | None, on: date) -> Signed:
    """Who did it, as far as somebody says so; the day and the engine's hours as they stand today."""
    state = state_of(sheet.record, on)
    usual = by or next((one.by for one in reversed(list(sheet.record.log.of(Service))) if one.by), None)
    name = one_line(answer(who, {"by": by}, "by", "Work done and released by (name)", one_line, usual))
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


def add_checks(
    who: Asks, folder: Folder, number: str, on: date, *, issue: str = "", by: str | None = None
) -> Filed:
    """Ask for the checks after the first run of a sheet that was filed, and file them with it.

    Errors: Refused, Stopped, Unanswered, StoreError.
    """
    sheet = _sheet(who, typed_number(number), folder, issue)
    held = filed_as(sheet)
    if held is None or not isinstance(held.event, Service):
        raise Refused("not-filed", f"{sheet.text} is not filed yet", f"file it first: docgen enter {sheet.text}")
    checks = sheet.job.instructions.after_run
    if not checks:
        raise Refused("no-such-checks", f"{sheet.text} has no checks after the first run", "there is nothing to add")
    for check in checks:
        who.say(f"  {check.text}" + (f"  ({check.accept})" if check.accept else ""))
    name = one_line(answer(who, {"by": by}, "by", "Checked by (name)", one_line, held.event.by))
    ran = who.typed("How long it ran (empty: not noted)", "", one_line)
    if not who.asked(f"All {len(checks)} made on {on.isoformat()}, and good?"):
        raise Refused("not-all-good", "what is not good is a finding", f"docgen note finding {sheet.number.engine} ...")
    event = after_run_event(held, checks, on, name, ran)
    return tell(who, folder.root, [file_event(folder.root, sheet.number.engine, event)])[0]
