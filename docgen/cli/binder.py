"""Everything for one engine, or for a day's work on several, in one file for the printer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli import _options as option
from docgen.cli._saying import counted, report
from docgen.cli._system import put, shown
from docgen.cli._wanted import Wanted, wanted_jobs
from docgen.cli.frame import Session
from docgen.cli.mat import laid_down, mat_papers
from docgen.club.folder import Folder
from docgen.club.schema.club import Club
from docgen.club.stock import read_stock
from docgen.club.store import StoreError
from docgen.job.issued import foreseen, issue, number_of
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.plan.kit import kit_of
from docgen.plan.laydown import Laydown, without_size

if TYPE_CHECKING:
    from docgen.club.words import Words
    from docgen.press.bound import Section, Start
    from docgen.press.meta import Pressed
    from docgen.sheets.binder import Sheet
    from docgen.sheets.page import Page


@option.command(
    "All sheets for an engine, or for a day's work, in one file.",
    "docgen binder 017",
    "docgen binder --due --no-mats",
)
@option.engines
@option.jobs
@option.due
@click.option("--mat-paper", help="What the mats are printed on, as for docgen mat.")
@click.option("--no-mats", is_flag=True, help="Leave the layout mats out.")
@option.on
@option.language
@option.out()
@click.option("--unproofed", is_flag=True, help="Print although proofing finds faults; the sheets say so.")
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, mat_paper: str | None,
    no_mats: bool, on: date, out: Path | None, unproofed: bool,
) -> None:  # fmt: skip
    """Bind everything for ENGINES, for the jobs named with --job or all that is due, into one file.

    One engine: its card, the kit, and each job's bench leaf, sign-off sheet and mat. Several: the same for a day's
    work, without the cards. The contents name every sheet's number and page; each sheet begins on a front page, so that
    the whole goes to the printer at once, on both sides. Each print is numbered, as with docgen print. What cannot be
    made is left out, which is said in a line, and then the exit code is 1.
    """
    if not engines and not jobs and not only_due:
        raise click.UsageError("say what to bind: an engine, a --job, or --due for all that is due")
    folder = session.read()
    club = folder.club.value
    if no_mats and mat_paper:
        raise click.UsageError("--mat-paper and --no-mats do not go together")
    mat_papers(club, mat_paper)
    wanted = wanted_jobs(folder, engines, jobs, only_due, on)
    if not wanted:
        click.echo(f"Nothing is due on {on.isoformat()}: name a job with --job.")
        return
    left_out = _LeftOut()
    if unproofed:
        report(sorted({p for want in wanted for p in want.faults}))
    else:
        wanted = [want for want in wanted if not _faulty(want, left_out)]
    laid = {} if no_mats or not wanted else _laid(folder, wanted, on, left_out)
    if not wanted:
        click.echo("Nothing was printed.", err=True)
        raise click.exceptions.Exit(1)
    ones = {want.record.engine.engine for want in wanted}
    from docgen.desk.pressing import ready

    ready((out or folder.root / "out") / (ones.pop() if len(ones) == 1 else ""))
    made = [
        foreseen(folder.root / "engines" / want.record.engine.engine / "issued",
                 resolve(folder, want.record, want.procedure, on, why_due=want.why, unproofed=len(want.faults)))
        for want in wanted
    ]  # fmt: skip
    numbers = list(dict.fromkeys(job.instructions.engine for job in made))
    one = numbers[0] if len(numbers) == 1 else ""
    found = list(_sections(folder, made, laid, mat_paper, on, one, left_out))
    where = (out or folder.root / "out") / (f"{one}/{one}-binder.pdf" if one else "binder.pdf")
    sheets, bound = _bind(folder.root, club, found, one, on, left_out)
    _give_numbers(folder.root, made, sheets)
    put(where, bound.pdf)
    total = f"{counted(len(sheets), 'sheet')} on {counted(bound.pages, 'page')}"
    click.echo(f"{total}, to print on both sides: {shown(where)}")
    if left_out.some:
        raise click.exceptions.Exit(1)


def _faulty(want: Wanted, left_out: _LeftOut) -> bool:
    """Whether proofing finds faults in a job; then it is left out."""
    if want.faults:
        engine, code = want.record.engine.engine, want.procedure.value.code
        found = counted(len(want.faults), "fault")
        left_out.say(f"{engine} {code}", f"proofing finds {found}; docgen print {engine} --job {code} names them")
    return bool(want.faults)


class _LeftOut:
    """What is left out of a binder, each said in a line as it is met."""

    some = False

    def say(self, what: str, why: str) -> None:
        """Say it."""
        self.some = True
        click.echo(f"Left out: {what}: {why}", err=True)


def _laid(
    folder: Folder, wanted: Sequence[Wanted], on: date, left_out: _LeftOut
) -> dict[tuple[str, str], Laydown]:
    """What comes off in each job; without those in which the size of a piece is not stated."""
    found = {}
    for want in wanted:
        engine, code, laid = want.record.engine.engine, want.procedure.value.code, laid_down(folder, want, on)
        if nameless := without_size(folder, want.record.engine.model, laid):
            sizes = counted(len(nameless), "piece")
            left_out.say(
                f"{engine} {code} mat", f"no size is stated of {sizes}; docgen mat {engine} --job {code} names them"
            )
        elif laid.pieces:
            found[engine, code] = laid
    return found


def _sections(
    folder: Folder, jobs: Sequence[Job], laid: dict[tuple[str, str], Laydown], mat_paper: str | None, on: date,
    one: str, left_out: _LeftOut,
) -> Iterator[tuple[Sheet, Section]]:  # fmt: skip
    """Every sheet in its order, with how the contents name it."""
    from docgen.club.words import Words
    from docgen.job.number import LEAF, SIGNOFF, SheetNumber
    from docgen.plan.standing import standing
    from docgen.press.bound import section_of
    from docgen.press.orders import order, plain_order
    from docgen.sheets.binder import Sheet
    from docgen.sheets.card import card
    from docgen.sheets.kitlist import kit_list
    from docgen.sheets.leaf import leaf
    from docgen.sheets.mat import MAT, mat
    from docgen.sheets.matpage import HOLDS_EVERY_PRINT
    from docgen.sheets.signoff import signoff

    club = folder.club.value
    w = Words.speaking(club.language)

    def plain(kind: str, title: str, page: Page) -> tuple[Sheet, Section]:
        made = plain_order(kind, page, club.club, on, ())
        return Sheet(one, kind, title, ""), section_of(f"{kind}: {title}", f"{kind} ", made)

    if one:
        state = standing(folder, folder.engines[one], on)
        yield plain(w("Engine card"), state.figures.model.title, card(state, club))
    stock, problems = read_stock(folder)
    if problems:
        left_out.say("kit list", f"stock.yaml has {counted(len(problems), 'fault')}; docgen kit names them")
    else:
        kit = kit_of(jobs, club.model_copy(update={"currency": None}), stock.value if stock else None)
        codes = ", ".join(dict.fromkeys(job.instructions.code for job in jobs))
        yield plain(w("Kit list"), codes, kit_list(kit, on, stock.value.counted if stock else None))
    for job in jobs:
        told = job.instructions
        number = SheetNumber(told.engine, told.code, told.revision, job.print)
        for kind, page, letter in (
            (w("Bench leaf"), leaf(job, club), LEAF),
            (w("Sign-off sheet"), signoff(job, club), SIGNOFF),
        ):
            made = order(kind, page, job, club.club)
            made = made if letter == SIGNOFF else replace(made, attachments=())
            this = replace(number, sheet=letter)
            sheet = Sheet(told.engine, kind, f"{told.code} {told.title}", this.text)
            yield sheet, section_of(f"{told.engine} {told.code} {kind}", this.body.removesuffix("1"), made)
        if (found := laid.get((told.engine, told.code))) is not None:
            this = replace(number, sheet=MAT, print=HOLDS_EVERY_PRINT)
            made = plain_order(w("Layout mat"), mat(found, told, club, mat_paper or "").page, club.club, on, ())
            sheet = Sheet(told.engine, w("Layout mat"), f"{told.code} {told.title}", this.text)
            yield sheet, section_of(f"{told.engine} {told.code} {w('Layout mat')}", this.body.removesuffix("1"), made)


def _give_numbers(root: Path, jobs: Sequence[Job], sheets: Sequence[Sheet]) -> None:
    """Give each job of which a sheet is bound its number. Errors: StoreError ``number-taken``."""
    from docgen.job.number import LEAF, SIGNOFF

    bound = {sheet.number for sheet in sheets}
    for job in jobs:
        told, number = job.instructions, number_of(job)
        if bound.isdisjoint(replace(number, sheet=letter).text for letter in (LEAF, SIGNOFF)):
            continue
        if issue(root / "engines" / told.engine / "issued", job).print != job.print:
            message = f"{told.engine} {told.code} was printed by somebody else meanwhile: nothing was printed"
            raise StoreError("number-taken", message, "give the same command again")


def _bind(
    root: Path, club: Club, found: Sequence[tuple[Sheet, Section]], one: str, on: date, left_out: _LeftOut
) -> tuple[list[Sheet], Pressed]:
    """Bind the sheets, and say which; those that do not fit their paper are left out."""
    from docgen.club.words import Words
    from docgen.desk.whereabouts import with_place
    from docgen.press.bound import Section, Unfit, bind
    from docgen.press.errors import PressError
    from docgen.press.orders import plain_order
    from docgen.press.workers import Order
    from docgen.sheets.binder import BLANK_SIDE, Where, blank_side, contents

    w: Words = Words.speaking(club.language)
    keywords = ("binder", *([one] if one else []))
    sheets = [sheet for sheet, _ in found]

    def named(starts: Sequence[Start]) -> Order:
        places = [Where(start.page, start.pages, start.size, start.anchor) for start in starts]
        return plain_order(w("Contents"), contents(sheets, places, one, club, on), club.club, on, keywords)

    def blank(size: tuple[float, float]) -> Order:
        return plain_order(w(BLANK_SIDE), blank_side(size, club), club.club, on, ())

    meta = plain_order("", contents([], [], one, club, on), club.club, on, keywords).meta
    try:
        first = Section(w("Contents"), f"{w('Contents')} ", found[0][1].order)
        made = bind([section for _, section in found], named, blank, first, meta)
    except Unfit as error:
        for n, faults in error.found.items():
            more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
            left_out.say(found[n][1].title, with_place(root, f"{faults[0]}{more}"))
        kept = [pair for n, pair in enumerate(found) if n not in error.found]
        if not kept:
            click.echo("Nothing was printed.", err=True)
            raise click.exceptions.Exit(1) from None
        return _bind(root, club, kept, one, on, left_out)
    except PressError as error:
        for fault in error.faults:
            click.echo(with_place(root, fault), err=True)
        click.echo("Nothing was printed.", err=True)
        raise click.exceptions.Exit(1) from None
    return sheets, made
