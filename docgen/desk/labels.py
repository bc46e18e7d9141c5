"""Labels for bags, boxes, cans and engines, and the label sheets that they are printed on."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path

from docgen.club.folder import Faulty, Folder
from docgen.club.problem import Problem, counted
from docgen.club.sidefiles import read_label_sheets
from docgen.club.words import Words
from docgen.desk.choosing import Unclear, engines_named, known
from docgen.desk.mat import laid_down
from docgen.desk.pages import Wish, wish
from docgen.desk.selection import Say, wanted_jobs
from docgen.job.components import Component, components
from docgen.job.resolve import figures_of, resolve
from docgen.plan.stoppage import open_after
from docgen.sheets.labelkinds import Stopped, bag_labels, fuel_label, old_labels, spare_labels, tag, to_write_on
from docgen.sheets.labels import Label, LabelError, LabelSheet, label_sheet, labels_page, misfits, shipped
from docgen.trade.errors import TradeError
from docgen.trade.fuel import mix

DEFAULTS = {
    "A4": {"parts": "2x4", "old": "2x4", "spares": "2x7", "fuel": "2x4", "tag": "2x2"},
    "Letter": {"parts": "2x3", "old": "2x3", "spares": "2x5", "fuel": "2x3", "tag": "2x3"},
}
"""The label sheet that each kind of label is printed on, by the club's paper."""
MOST = 400
"""Labels in one print."""


def words_of(folder: Folder) -> Words:
    """The words of the pages in the club's language."""
    return Words.speaking(folder.club.value.language)


def known_sheets(folder: Folder) -> dict[str, LabelSheet]:
    """The label sheets by name. Errors: Faulty where the club's own are."""
    own, problems = read_label_sheets(folder)
    found = shipped()
    if own is not None:
        for name, grid in own.value.sheets.items():
            made = label_sheet(name, grid)
            problems += [_misfit(own.document.problem, name, fault) for fault in misfits(made)]
            found[name] = made
    if problems:
        raise Faulty(sorted(problems))
    return found


def _misfit(problem: Callable[..., Problem], name: str, fault: tuple[str, str, str]) -> Problem:
    key, kebab, sentence = fault
    hint = "measure the label sheet: left and top to the first label, across and down from edge to edge"
    return problem(("sheets", name, key), kebab, f"{name}: {sentence}", hint)


def label_page(
    folder: Folder, kind: str, labels: Sequence[Label], on: date, out: Path, *, where: str = "", sheet: str = "",
    start: int = 1, outline: bool = False,
) -> Wish:  # fmt: skip
    """Labels of one kind, from a position of a label sheet on. Errors: Unclear, Faulty.

    where   : the engine that they are for
    sheet   : the label sheet's name; empty for the usual one of their kind
    start   : the first free label, counted row by row from 1
    outline : whether the labels' edges are drawn, for a trial on plain paper
    """
    club, sheets = folder.club.value, known_sheets(folder)
    usual = DEFAULTS[club.paper][kind]
    name = known(sheet or usual, sheets, "label sheet", listed="docgen labels sheets lists them")
    if len(labels) > MOST:
        raise Unclear(f"these would be {len(labels)} labels: name fewer jobs; at most {MOST} in one print")
    w = words_of(folder)
    title = w("Labels: {what}", what=" ".join(filter(None, (kind, where))))
    try:
        page = labels_page(list(labels), sheets[name], start, club, title, outline=outline)
    except LabelError as error:
        raise Unclear(str(error)) from None
    says = f"{counted(len(labels), 'label')} ({kind}) from position {start}"
    file = "-".join(filter(None, (where, "labels", kind))) + ".pdf"
    return wish(folder, says, page, on, ("labels", kind, where), out / where / file)


OF_JOBS: dict[str, Callable[..., list[Label]]] = {"parts": bag_labels, "old": old_labels}


def job_labels(
    folder: Folder, kind: str, engine: str, jobs: Sequence[str], on: date, say: Say, *, blank: int = 0
) -> list[Label]:
    """Labels for what comes off in jobs, or in all that is due, by their kind, and so many to write on.

    Errors: Faulty, Unclear.
    """
    w = words_of(folder)
    labels = [
        label
        for want in wanted_jobs(folder, [engine], jobs, on, say=say)
        for label in OF_JOBS[kind](
            laid_down(folder, want, on), resolve(folder, want.record, want.procedure, on).instructions, on, w
        )
    ]
    return labels + [to_write_on(kind, engine, w)] * blank


def shelf_labels(folder: Folder, numbers: Sequence[str], on: date, *, blank: int = 0) -> list[Label]:
    """One for each numbered component on the shelf, or for those named, which must lie there. Errors: Unclear."""
    w = words_of(folder)
    return spare_labels(list(_shelf(folder, numbers, on)), w) + [to_write_on("spares", "", w)] * blank


def can_label(folder: Folder, litres: str | None, ratio: str | None, on: date, by: str = "") -> Label:
    """A can of fuel mix; without figures, to be filled in by hand. Errors: Unclear."""
    if (litres is None) != (ratio is None):
        raise Unclear("--litres and --ratio go together: how much oil there is follows from both")
    try:
        mixed = mix(_decimal("--litres", litres), _decimal("--ratio", _one_part(ratio))) if litres and ratio else None
    except TradeError as error:
        raise Unclear(error.message) from None
    return fuel_label(mixed, on, by, words_of(folder))


def stop_tag(
    folder: Folder, engine: str, job: str | None, after: str | None, on: date, say: Say, *, by: str = ""
) -> Label:
    """The tag that keeps an engine from being started, with what is off or loose after a row of a job's leaf.

    Without job and row it is filled in by hand. Errors: Faulty, Unclear.
    """
    if (job is None) != (after is None):
        raise Unclear("--job and --after go together: which job stopped, and after which of its rows")
    (record,) = engines_named(folder, [engine])
    stopped = None
    if job is not None and after is not None:
        (want,) = wanted_jobs(folder, [engine], [job], on, say=say)
        try:
            found = open_after(laid_down(folder, want, on).run, after, figures_of(folder, record, on))
        except ValueError as error:
            raise Unclear(f"{want.procedure.value.code} on engine {engine}: {error}") from None
        stopped = Stopped(resolve(folder, record, want.procedure, on).instructions, after, found)
    return tag(engine, stopped, on, by, words_of(folder))


def _shelf(folder: Folder, numbers: Sequence[str], on: date) -> Iterator[tuple[str, Component]]:
    """The numbered components on the shelf with their names."""
    found = sorted(components(folder, on).values(), key=lambda one: (one.part, one.number))
    there = {one.number: one for one in found}
    for number in numbers:
        if there[known(number, there, "component", listed="docgen components lists them")].stints[-1].until is None:
            place = there[number].stints[-1].engine
            raise Unclear(f"{number} is on engine {place}, not on the shelf: docgen move enters where it goes")
    for one in found:
        if one.stints[-1].until is not None and (not numbers or one.number in numbers):
            record = folder.engines[one.stints[-1].engine]
            part = folder.models[record.engine.model].value.parts.get(one.part)
            yield (part.name if part and part.name else one.part.replace("-", " ")), one


def _one_part(ratio: str) -> str:
    """The parts of petrol to one of oil: `25`, `25:1`, and `1:25`, as it is said in some places."""
    first, colon, second = (piece.strip() for piece in ratio.partition(":"))
    return second if colon and first == "1" else first if colon and second == "1" else ratio


def _decimal(option: str, text: str) -> Decimal:
    try:
        value = Decimal(text.strip())
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite():
        raise Unclear(f'{option} "{text}" is not a number: write digits with a point, as in 12.5')
    return value
