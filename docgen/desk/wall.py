"""Pages without a number: for the wall and the desk, of an engine, of a job that nobody signs for yet."""

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from docgen.club.folder import Faulty, Folder, Read
from docgen.club.problem import listing
from docgen.club.schema.procedure import Procedure
from docgen.club.sidefiles import GLOSSARY, read_glossary
from docgen.club.store import replace
from docgen.desk.choosing import Unclear, Unprinted, engines_named, fitting, jobs_named, known, sound
from docgen.desk.pages import Laid, Wish, wish, with_place
from docgen.desk.pressing import ready
from docgen.desk.selection import MEND, Say
from docgen.job.blank import blank_job, blank_record
from docgen.job.job import Job
from docgen.job.keywords import record_mark
from docgen.job.resolve import resolve
from docgen.plan.board import Board
from docgen.plan.standing import standing
from docgen.press.orders import order
from docgen.press.shelf import Shelf
from docgen.press.workers import Outcome, press
from docgen.proof import proof_job
from docgen.returns.verify import verify
from docgen.sheets.board import board_page
from docgen.sheets.card import card
from docgen.sheets.composition import glossary_page
from docgen.sheets.leaf import leaf
from docgen.sheets.page import PAPERS
from docgen.sheets.reading import reading
from docgen.sheets.safety import safety_sheet, unknown_codes
from docgen.sheets.season import season_chart
from docgen.sheets.signoff import signoff
from docgen.visit.calendar import calendar_of
from docgen.visit.season import Season

BOARDS = {"A4": ("A3", "A4"), "Letter": ("Letter",)}
"""The papers that a club's board can be printed on, by the club's own; the first is the usual one."""


def board_paper(folder: Folder, paper: str | None) -> str:
    """The paper of the board, the usual one where none is named. Errors: Unclear."""
    papers = BOARDS[folder.club.value.paper]
    if paper and paper not in papers:
        raise Unclear(f'a board is not printed on "{paper}"; this club can print it on {", ".join(papers)}')
    return paper or papers[0]


def board_sheet(folder: Folder, found: Board, on: date, paper: str, out: Path) -> Wish:
    """The due board, which goes on over as many pages as it needs."""
    club = folder.club.value
    numbers = sorted(one.engine for one in found.engines)
    marks = ("board", *numbers, record_mark(folder, numbers))
    name = "board" if paper == BOARDS[club.paper][0] else f"board-{paper}"
    return wish(folder, "Due board", board_page(found, club, PAPERS[paper]), on, marks, out / f"{name}.pdf")


def cards(folder: Folder, numbers: Sequence[str], on: date, out: Path) -> list[Wish]:
    """The cards of engines. Errors: Faulty while checking its log finds something in one's record; Unclear."""
    records, club = engines_named(folder, numbers), folder.club.value
    for record in records:
        sound(folder, record.engine.engine)
    if missing := sorted({p for record in records for p in verify(folder.root, record.engine.engine).problems}):
        raise Faulty(missing)
    found = []
    for record in records:
        number = record.engine.engine
        marks = (number, record.engine.model, record_mark(folder, [number]))
        page, path = card(standing(folder, record, on), club), out / number / f"{number}-card.pdf"
        found.append(wish(folder, f"Card of engine {number}", page, on, marks, path))
    return found


def glossary_sheet(folder: Folder, on: date, out: Path) -> Wish:
    """The club's terms. Errors: Faulty; Unprinted where it has none."""
    read, problems = read_glossary(folder)
    if problems:
        raise Faulty(problems)
    if read is None or not read.value.terms:
        raise Unprinted([f"There are no terms to print: write them into {GLOSSARY} in the club's folder."])
    page = glossary_page(read.value, folder.club.value, on)
    return wish(folder, "Glossary", page, on, ("glossary",), out / "glossary.pdf")


def safety_of(folder: Folder, names: Sequence[str], on: date, out: Path) -> Wish:
    """The safety sheet of some materials, or of all. Errors: Faulty for a code that the table has not; Unclear."""
    club = folder.club.value
    materials = tuple(dict.fromkeys(known(name, club.materials, "material", where=" in club.yaml") for name in names))
    if problems := unknown_codes(folder.club, materials):
        raise Faulty(problems)
    path = out / f"safety{''.join(f'-{name}' for name in materials)[:80]}.pdf"
    return wish(folder, "Safety sheet", safety_sheet(club, materials, on), on, ("safety", *materials), path)


def season_sheet(folder: Folder, plan: Season, out: Path) -> tuple[Wish, dict[Path, bytes]]:
    """The season's wall chart, and the calendar beside it, by its file. Errors: OSError."""
    ready(out)
    chart = season_chart(plan, folder)
    made = wish(folder, "Season", chart, plan.on, ("season", *plan.engines), out / "season.pdf")
    return made, {out / "season.ics": calendar_of(plan, folder)}


def readings(
    folder: Folder, names: Sequence[str], on: date, out: Path, *, engine: str | None = None, model: str | None = None
) -> list[Wish]:
    """The reading of each job, for an engine, an engine type, or each type that it is for. Errors: Faulty, Unclear."""
    if engine and model:
        raise Unclear("--engine or --model, not both: an engine has its type")
    wishes = []
    for job, name in _each(folder, jobs_named(folder, names), engine, model, on):
        told = job.instructions
        page = folder.pages.get(told.procedure)
        made = reading(job, folder.club.value, teaching=page.value.text if page else "")
        ordered = order(f"Reading of {told.code} for {name}", made, job, folder.club.value.club)
        wishes.append(Wish(ordered, out / "reading" / f"{told.code}-{name}-reading.pdf"))
    return wishes


def _each(
    folder: Folder, chosen: list[Read[Procedure]], engine: str | None, model: str | None, on: date
) -> Iterator[tuple[Job, str]]:
    """Each job for each engine type, or for the engine, with the name that tells the files apart."""
    names = [one.value.procedure for one in chosen]
    if stopped := folder.blocking(engine or "", names, [model] if model else None):
        raise Faulty(sorted(stopped))
    types = [known(model, folder.models, "engine type")] if model else sorted(folder.models)
    record = engines_named(folder, [engine])[0] if engine else None
    for procedure in chosen:
        job = procedure.value.procedure
        if record is not None:
            if folder.fits(job, folder.models[record.engine.model].value):
                yield resolve(folder, record, procedure, on), record.engine.engine
            continue
        yield from (
            (blank_job(folder, name, procedure, on), name)
            for name in types
            if folder.fits(job, folder.models[name].value)
        )


def blank_sheets(
    folder: Folder, model: str, names: Sequence[str], on: date, out: Path, *, unproofed: bool = False
) -> tuple[list[Wish], str]:
    """Leaf and sign-off sheet of each job for an engine of a type: of those named, or all that an interval makes due.

    unproofed : although proofing finds faults; these are given as well, in words
    Errors: Faulty, Unclear; Unprinted where proofing finds faults.
    """
    club, wanted = folder.club.value, _for_type(folder, model, names)
    record = blank_record(folder, model, on)
    faults = [[one for one in proof_job(folder, job, record, on) if one.level == "error"] for job in wanted]
    said = listing(sorted({problem for each in faults for problem in each}))
    if said and not unproofed:
        raise Unprinted([said], MEND)
    wishes = []
    for procedure, found in zip(wanted, faults, strict=True):
        job = blank_job(folder, model, procedure, on, unproofed=len(found))
        code = job.instructions.code
        for sheet, page in (("leaf", leaf(job, club)), ("sign-off", signoff(job, club))):
            made = order(f"Blank {sheet} of {code}", page, job, club.club, forms=sheet == "sign-off")
            wishes.append(Wish(made, out / "blank" / model / f"{model}-{code}-{sheet}.pdf"))
    return wishes, said


def _for_type(folder: Folder, model: str, names: Sequence[str]) -> list[Read[Procedure]]:
    chosen = jobs_named(folder, names)
    if stopped := folder.blocking("", [one.value.procedure for one in chosen] if chosen else None, [model]):
        raise Faulty(sorted(stopped))
    fitting(folder, chosen, known(model, folder.models, "engine type"))
    every = (folder.procedures[one.procedure] for one in folder.for_model(folder.models[model].value))
    return chosen or [one for one in every if (often := one.value.every) is not None and often.counted]


def drafts(folder: Folder, number: str, name: str, on: date, say: Say) -> Iterator[Laid]:
    """Lay out leaf and sign-off sheet of a job on an engine into out/watch/, as print 0, which cannot be filed.

    say : told what is wrong with them

    What does not fit its page stays as it was laid out before. Errors: Faulty, Unclear, OSError.
    """
    (record,), (procedure,) = engines_named(folder, [number]), jobs_named(folder, [name])
    sound(folder, number, [procedure.value.procedure])
    club, out = folder.club.value, folder.root / "out"
    faults = [one for one in proof_job(folder, procedure, record, on) if one.level == "error"]
    if faults:
        say(listing(faults))
    job = resolve(folder, record, procedure, on, unproofed=len(faults)).model_copy(update={"print": 0})
    for sheet, make in (("leaf", leaf), ("sign-off", signoff)):
        path = out / "watch" / f"{number}-{job.instructions.code}-{sheet}.pdf"
        made = order(f"Draft {sheet}", make(job, club), job, club.club, forms=sheet == "sign-off")
        filled = Shelf(out).filled(made)
        # A draft's layout is kept for nobody.
        outcome = Outcome(made.key, filled) if filled is not None else press(made)
        for fault in outcome.faults:
            say(with_place(folder.root, f"{sheet}: {fault}", number))
        if outcome.pressed is not None:
            replace(path, outcome.pressed.pdf)
            yield Laid(made.key, path, outcome.pressed.pages, None)
