"""What was understood of a sheet, as text: shown before anything is written."""

from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

from docgen.club.problem import visible
from docgen.job import marks as m
from docgen.job.job import Job
from docgen.job.state import state_of
from docgen.returns.diagnostic import Said
from docgen.returns.layout import row_names, sections
from docgen.returns.measurements import WORDS, Judged
from docgen.returns.reading import Understood
from docgen.returns.refiling import record_before

NAME, VALUE, FEW = 44, 26, 6


def report_lines(one: Understood) -> Iterator[str]:
    """The lines that say what a sheet holds, with nothing in them that a terminal would hide or obey."""
    return map(visible, _lines(one))


def _lines(one: Understood) -> Iterator[str]:
    told, event = one.sheet.job.instructions, one.event
    yield f"{one.sheet.text}  {told.title}, engine {told.engine}"
    yield "  " + ", ".join(_head(event))
    names = _names(one.sheet.job)
    for title, rows in (
        ("Readings", [_reading(judged) for judged in one.judged]),
        *((title, [_line(names.get(key, key), say(kept)) for key, kept in event.get(group, {}).items()])
          for title, group, say in _GROUPS),
        ("Looked at and checked", list(_checked(event, names))),
        ("Earlier findings closed", [_dealt(d, one) for d in event.get("dealt_with", ())]),
        ("Findings, open from now on", [f"{n}. {t}" for n, t in enumerate(event.get("findings", ()), 1)]),
        ("Remarks, nothing more to do", list(event.get("remarks", ()))),
        ("Struck through", [event["struck"]] if "struck" in event else []),
        ("Left blank", list(_blank(one.sheet.job, event, names))),
        ("Read as", list(one.understood)),
    ):
        if rows:
            yield f"  {title}"
            yield from (f"    {row}" for row in rows)


def said_lines(said: tuple[Said, ...]) -> Iterator[str]:
    """The lines of what must be said, a hint below each."""
    for one in said:
        first, *more = one.message.splitlines() or [""]
        yield visible(f"  {one.weight} {one.name}: {first}")
        yield from (visible(f"    {line}") for line in (*more, *one.hint.splitlines()))


def _names(job: Job) -> dict[str, str]:
    names = row_names(job)
    for mark in (mark for step in job.instructions.steps for mark in step.marks):
        if isinstance(mark, (m.ReadingMark, m.SettingMark, m.TorqueMark, m.RenewMark, m.SealMark)):
            of = next(getattr(mark, key) for key in ("limit", "setting", "item") if hasattr(mark, key))
            names.setdefault(of, mark.name)
    return names


def _head(event: dict[str, Any]) -> Iterator[str]:
    yield f"done {event.get('date', '(no date)')}" + (f" at {event['hours']}" if "hours" in event else "")
    yield f"by {event.get('by', '(nobody)')}"
    if "second" in event:
        yield f"second person {event['second']}"
    released = event.get("released", {})
    if "by" in released:
        yield f"released by {released['by']}" + (f" on {released['on']}" if "on" in released else "")


def _line(name: str, text: str) -> str:
    short = name if len(name) <= NAME else name[: NAME - 1].rstrip() + "…"
    return f"{short:<{NAME}}  {text}".rstrip()


def _reading(one: Judged) -> str:
    values = " / ".join(str(value) for value in one.values)
    word = f"{WORDS[one.verdict]} {one.printed}" if one.verdict else "no limit printed"
    return _line(one.name, f"{values:<{VALUE}}  {word}")


def _setting(noted: dict[str, str]) -> str:
    return "; ".join(f"as {when} {noted[when]}" for when in ("found", "left") if when in noted)


def _torque(row: dict[str, str]) -> str:
    wrench = f"wrench {row['wrench']}" if "wrench" in row else ""
    return ", ".join(filter(None, (row.get("value", ""), wrench, "paint mark" if "painted" in row else "")))


def _seal(seal: dict[str, str]) -> str:
    return ", ".join(f"{part} {text}" for part, text in seal.items())


def _held(held: dict[str, str]) -> str:
    own = f"own re-check {held.get('at', '')}".strip() if "own" in held else ""
    return ", ".join(filter(None, (f"second person {held['second']}" if "second" in held else "", own)))


_GROUPS: tuple[tuple[str, str, Callable[[Any], str]], ...] = (
    ("Settings", "settings", _setting), ("Critical fasteners", "torques", _torque), ("Renewed", "renewed", str),
    ("Seals", "seals", _seal), ("Hold points", "holds", _held),
)  # fmt: skip
"""The groups of an event that are told row by row: their title, and what is said of a row."""


def _dealt(dealt: dict[str, str], one: Understood) -> str:
    state = state_of(record_before(one.sheet), date.max)
    found = next((f for f in state.findings if f.digest == dealt["finding"]), None)
    text = f"{found.day.isoformat()}: {found.text}" if found else dealt["finding"]
    return f"{text}; {dealt['how']}" if "how" in dealt else text


def _checked(event: dict[str, Any], names: dict[str, str]) -> Iterator[str]:
    checked = event.get("checked", {})
    for word in ("good", "done"):
        count = sum(text == word for text in checked.values())
        if count:
            yield f"{count} {word}"
    yield from (f"NOT GOOD: {names.get(key, key)}" for key, text in checked.items() if text == "not good")


def _blank(job: Job, event: dict[str, Any], names: dict[str, str]) -> Iterator[str]:
    """The rows left blank, by tables: by name where they are few; a part of a row says which."""
    blank = event.get("blank", ())
    for section in sections(job):
        keys = [row.key for row in section.rows]
        empty = [names[key] for key in keys if key in blank]
        parts = [
            f"{names[key]}: {part.removeprefix(key + '-')}"
            for part in blank
            for key in keys
            if part.startswith(f"{key}-") and part not in names
        ]
        if len(empty) > FEW:
            yield f"{section.title}: {len(empty)} of {len(keys)} rows, the first: {empty[0]}"
        else:
            yield from (f"{section.title}: {name}" for name in empty)
        yield from (f"{section.title}: {part}" for part in parts)
