"""Whether the sheets on the wall are still current."""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json
from docgen.cli.frame import Session
from docgen.club.folder import Faulty, Folder
from docgen.club.problem import counted
from docgen.job.number import NumberError, SheetNumber, parse_number
from docgen.share.currency import SheetStanding, Wall, printed_on
from docgen.share.differences import difference_lines

MOST_WORDS = 12
"""Most changes of mere words that are shown of one sheet."""


@option.command(
    "Whether the sheets on the wall are still current.",
    "docgen current", "docgen current 017-CLU-04-003-L1-U",
)  # fmt: skip
@click.argument("numbers", nargs=-1, metavar="[NUMBER]...")
@option.on
@option.json
def command(session: Session, numbers: tuple[str, ...], on: date, as_json: bool) -> bool:
    """Say whether the sheet of each NUMBER is still current, and what has changed since it was printed.

    The number stands at the foot of each page, and its QR code holds the same. Without one, the latest print of every
    job on every engine is looked at, and those to reprint are listed. Exit code 0: all current; 1: not all.
    """
    folder = session.read()
    wall = Wall(folder, on)
    chosen = [_number(text) for text in numbers] or list(wall.latest())
    _stop_for_errors(folder, chosen)
    found = [wall.standing(number) for number in chosen]
    if as_json:
        say_json([_plain(folder, one) for one in found])
    elif numbers:
        for one in found:
            click.echo("\n".join(_lines(folder, one, on)))
    else:
        click.echo("\n".join(_list(folder, found, on)))
    return any(one.state != "current" for one in found)


def _number(text: str) -> SheetNumber:
    try:
        return parse_number(text)
    except NumberError as error:
        raise click.UsageError(f"{error}; type it again: 0 and O, 1 and I are easily taken for one another") from None


def _stop_for_errors(folder: Folder, chosen: Sequence[SheetNumber]) -> None:
    """Nothing can be said while files have errors that concern one of the sheets."""
    found = {problem for one in chosen for problem in folder.blocking(one.engine, _job(folder, one))}
    if found:
        raise Faulty(sorted(found))


def _job(folder: Folder, number: SheetNumber) -> list[str]:
    return [folder.codes[number.code]] if number.code in folder.codes else []


def _list(folder: Folder, found: Sequence[SheetStanding], on: date) -> Iterator[str]:
    states: Counter[str] = Counter(one.state for one in found)
    if not found:
        yield "No sheet was printed from this folder yet."
        return
    for state, say in (("changed", "Reprint"), ("void", "Take down"), ("unknown", "Nobody can tell, so reprint")):
        if states[state]:
            yield f"{say} {'this one' if states[state] == 1 else f'these {states[state]}'}:"
            yield from (f"  {_row(folder, one)}" for one in found if one.state == state)
            yield ""
    current, are = states["current"], "is" if states["current"] == 1 else "are"
    sheets = counted(len(found), "sheet")
    yield f"{current} of {sheets} {are} current on {on}: the latest print of each job on each engine was looked at."
    changed = sorted({one.number.engine for one in found if one.state in ("changed", "unknown")})
    for engine in changed:
        jobs = " ".join(f"--job {one.number.code}" for one in found
                        if one.number.engine == engine and one.state in ("changed", "unknown"))  # fmt: skip
        yield f"  docgen print {engine} {jobs}"


def _row(folder: Folder, one: SheetStanding) -> str:
    return f"{one.number.text:22} {_title(folder, one)}: {_weight(one)}"


def _title(folder: Folder, one: SheetStanding) -> str:
    if one.job is not None:
        return str(one.job.instructions.title)
    name = folder.codes.get(one.number.code, "")
    return str(folder.procedures[name].value.title) if name else one.number.code


def _weight(one: SheetStanding) -> str:
    """How grave it is, in one line."""
    if one.state != "changed" or not one.found:
        return one.why
    grave = [counted(one.numbers, "number")] if one.numbers else []
    grave += [counted(one.safety, "safety matter")] if one.safety else []
    among = f"{' and '.join(grave)} among " if grave else ""
    return f"{among}{counted(len(one.found), 'change')}" + ("" if grave else ", no number and no safety matter")


def _lines(folder: Folder, one: SheetStanding, on: date) -> Iterator[str]:
    printed = printed_on(folder.root, one.number)
    head = f"{one.number.text}, {_title(folder, one)}, engine {one.number.engine}"
    head += f", printed {printed}" if printed else ""
    if one.state == "current":
        yield f"{head}: current. Printed on {on}, it would say the same."
        return
    told = {"changed": "no longer current", "void": "take it down", "unknown": "nobody can tell whether it is current"}
    yield f"{head}: {told[one.state]}."
    if one.why:
        yield f"  {one.why}"
    grave = [difference for difference in one.found if difference.safety or difference.number]
    words = [difference for difference in one.found if not (difference.safety or difference.number)]
    for difference in (*sorted(grave, key=lambda d: not d.safety), *words[:MOST_WORDS]):
        yield from (f"  {line}" for line in difference_lines(difference))
    if len(words) > MOST_WORDS:
        yield f"  and {len(words) - MOST_WORDS} more in words only; all of them with --json"
    if one.state == "changed" and one.found:
        weight = _weight(one)
        yield f"{weight[:1].upper()}{weight[1:]}. {'Take it down, and print' if grave else 'Print'} it again:"
    if one.state != "void":
        yield f"  docgen print {one.number.engine} --job {one.number.code}"


def _plain(folder: Folder, one: SheetStanding) -> dict[str, object]:
    changes = [{"where": d.where, "before": d.before, "after": d.after, "number": d.number, "safety": d.safety}
               for d in one.found]  # fmt: skip
    return {"number": one.number.text, "engine": one.number.engine, "code": one.number.code,
            "title": _title(folder, one), "printed": printed_on(folder.root, one.number), "state": one.state,
            "why": one.why, "numbers": one.numbers, "safety": one.safety, "changes": changes}  # fmt: skip
