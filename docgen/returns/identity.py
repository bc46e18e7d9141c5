"""Which sheet a filed paper is: its number, checked, and the job that was frozen when it was printed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from docgen.club.folder import EngineRecord, Folder
from docgen.club.log import SHORT
from docgen.job import wording
from docgen.job.issue import number_of, stem, thawed
from docgen.job.job import Job
from docgen.job.number import LEAF, READING, SIGNOFF, UNNAMED, NumberError, SheetNumber, parse_number
from docgen.job.prints import Print, numbered, prints
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.layout import field_names
from docgen.returns.sandbox import Paper
from docgen.trade.checkchar import check_character

_FORMER = {"C": "a bench checklist", "B": "a short card"}
_AT_THE_BENCH = {LEAF: "a bench leaf", READING: "a reading", **_FORMER, "M": "a layout mat", "P": "a parts box"}
"""What else bears a number, by its letter."""
_ELSEWHERE = "it was printed from another copy of the club's folder"


@dataclass(frozen=True)
class IssuedSheet:
    """A sheet that was printed: its first page's number, its engine's record, and what it told its reader.

    printed : the digest of the frozen job's file
    said    : what must be said of which print it is
    """

    number: SheetNumber
    record: EngineRecord
    job: Job
    printed: str = ""
    said: tuple[Said, ...] = ()

    @property
    def text(self) -> str:
        """The number of its first page as printed."""
        return self.number.text


def sheet_of(paper: Paper, folder: Folder, engine: str = "", issue: str = "") -> IssuedSheet:
    """The sheet that a PDF is.

    engine : the only engine to file for, where one was named
    issue  : digits of the issue at the foot of the paper, where somebody gave them
    Errors: Refused, among them ``not-our-sheet``, ``wrong-check-character``, ``two-sheets``, ``no-fields``,
    ``fields-missing``, ``other-print`` and those of :func:`sheet_numbered`.
    """
    number = _number(paper)
    _signed_for(number)
    if not paper.form.fields:
        message = f"the file shows sheet {number.text} but has lost its fields: it was printed to a new PDF, or scanned"
        raise Refused("no-fields", message, f"type it in:  docgen enter {number.text}")
    inside = _issue_inside(paper)
    sheet = sheet_numbered(number, folder, engine, inside or issue, inside=bool(inside))
    missing = [name for name in field_names(sheet.job) if name not in paper.form.fields]
    if missing:
        message = f"{len(missing)} of the sheet's fields are not in the file, the first is {missing[0]}"
        hint = f"save it again from the viewer, or type it in:  docgen enter {sheet.text}"
        raise Refused("fields-missing", message, hint)
    return sheet if inside or issue else replace(sheet, said=(_job_gone(sheet),))


def sheet_numbered(
    number: SheetNumber, folder: Folder, engine: str = "", issue: str = "", *, inside: bool = False
) -> IssuedSheet:  # fmt: skip
    """The sheet of a number that was read or typed.

    issue  : the digest of its issue, or the first digits of it
    inside : whether that is of the job inside the PDF, and was not typed
    Errors: Refused ``not-a-sign-off``, ``unknown-engine``, ``wrong-engine``, ``not-issued``, ``issued-changed``,
    ``two-prints``, ``other-print``.
    """
    number = number.on_page(1)
    _signed_for(number)
    if engine and number.engine != engine:
        hint = f"leave --engine out to file it for {number.engine}, or look for the right sheet"
        message = f"{number.text} is a sheet of engine {number.engine}, not of {engine}"
        raise Refused("wrong-engine", message, hint)
    record = folder.engines.get(number.engine)
    if record is None and number.engine == UNNAMED:
        message = f"{number.text} is of the blank set, for an engine that was not in the records"
        own = f"print its own sheet (docgen print NNN --job {number.code})"
        hint = f"write its engine.yaml, {own}, and type in what stands on this one (docgen enter)"
        raise Refused("blank-sheet", message, hint)
    if record is None:
        message = f"{number.text} is a sheet of engine {number.engine}, which this club's record does not hold"
        known = ", ".join(sorted(folder.engines)) or "none yet"
        raise Refused("unknown-engine", message, f"known: {known}; go to the folder of the club that printed it")
    found = prints_of(number, folder)
    one = _chosen(number, found, issue, inside)
    return IssuedSheet(number, record, _thawed(number, one), one.digest)


def prints_of(number: SheetNumber, folder: Folder) -> list[Print]:
    """The prints that bear a number. Errors: Refused ``not-issued`` where there is none."""
    base = f"engines/{number.engine}/issued"
    found = numbered(prints(folder.root, base), stem(number))
    if not found:
        message = f"{base} holds no {stem(number)}: this folder does not know that {number.text} was printed"
        raise Refused("not-issued", message, f"{_ELSEWHERE}: bring its file here")
    return found


def _chosen(number: SheetNumber, found: Sequence[Print], issue: str, inside: bool) -> Print:
    """The print that bears these digits of an issue, or the only one where none are given."""
    meant = [one for one in found if one.issue.startswith(issue)] if issue else list(found)
    if len({one.issue for one in meant}) == 1:
        return meant[0]
    issues = wording.listed([one.issue[:SHORT] for one in found])
    if meant:
        apart = "from copies of the club's folder that did not know of each other"
        raise Refused("two-prints", f"{number.text} was printed {len(found)} times, {apart}: issue {issues}",
                      'the paper says which: give the first digits behind "issue" at its foot with --issue')
    what = "the job inside the file" if inside else f"the issue {issue}"
    message = f"{what} is not the one that was issued here as {number.text}{'' if inside else f': that is {issues}'}"
    raise Refused("other-print", message, f"{_ELSEWHERE}: file it there, or bring its file of issued/ here")


def _signed_for(number: SheetNumber) -> None:
    if number.sheet == SIGNOFF:
        return
    what = _AT_THE_BENCH.get(number.sheet, "no sign-off sheet")
    signed = SheetNumber(number.engine, number.code, number.revision, number.print, SIGNOFF)
    of_print = f", {signed.text}" if number.sheet in (LEAF, READING, *_FORMER) else ""
    message = f"{number.text} is {what}, which stays at the bench"
    raise Refused("not-a-sign-off", message, f"file the sign-off sheet of the same job{of_print}")


def typed_number(text: str) -> SheetNumber:
    """A number as somebody typed it. Errors: Refused ``wrong-check-character``."""
    try:
        return parse_number(text)
    except NumberError as error:
        hint = "type it again from the sheet; 0 and O, 1 and I are easily taken for one another"
        raise Refused("wrong-check-character", str(error), hint) from None


def _thawed(number: SheetNumber, one: Print) -> Job:
    try:
        job = thawed(one.text) if one.as_written and one.problem is None else None
    except ValueError:
        job = None
    if job is None:
        message = f"{one.path} is not as it was when {number.text} was printed"
        raise Refused("issued-changed", message, "restore that file: the sheet is judged by what it says")
    if stem(number_of(job)) != stem(number):
        raise Refused("issued-changed", f"{one.path} holds another sheet than its name says", "restore that file")
    return job


def _number(paper: Paper) -> SheetNumber:
    """The one sheet that hidden field, file identifier, subject and the text of every page name."""
    found: dict[str, SheetNumber] = {}
    for where, body in paper.form.names.items():
        try:
            found[where] = parse_number(f"{body}-{check_character(body.replace('-', ''))}")
        except ValueError:
            continue
    for page, text in enumerate(paper.numbers, 1):
        if text:
            found[f"page {page}"] = typed_number(text)
    if not found:
        raise Refused("not-our-sheet", "nothing in this file says which sheet it is",
                      "give the sign-off sheet that docgen printed, filled and saved; a scan or photograph is typed in "
                      "by the number at its foot:  docgen enter NUMBER")  # fmt: skip
    first, number = next(iter(found.items()))
    for where, other in found.items():
        if other.on_page(1) != number.on_page(1):
            message = f"{first} says {number.text}, and {where} says {other.text}"
            raise Refused("two-sheets", message, "file one sheet at a time, as it was printed")
    return number.on_page(1)


def _issue_inside(paper: Paper) -> str:
    """The digest of the issue that is attached; empty where nothing is. Two copies of a folder may both print 003."""
    if not paper.form.job:
        return ""
    try:
        return thawed(paper.form.job).issue_digest
    except ValueError:
        return "unreadable"


def _job_gone(sheet: IssuedSheet) -> Said:
    message = (
        f"the job that was printed inside the file is gone, so nothing in it says by which limits it is judged; "
        f"{sheet.text} of this folder is issue {sheet.job.issue_digest[:SHORT]}, printed on {sheet.job.issue.on}"
    )
    return Said("doubt", "job-gone", message, 'look whether the foot of the paper says that behind "issue"')
