"""What was looked at, by exception: one tick for all that is good, and by its row what is not."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT
from docgen.job import marks as m
from docgen.job.job import JobStep
from docgen.returns.answers import Gathered
from docgen.sheets.entries import keyed, looked_at

_PART = re.compile(r"(?:rows?\s+)?(?P<label>\d{1,3}[a-z]{0,2})\b[\s:.-]*(?P<text>.*)", re.IGNORECASE | re.DOTALL)


def looks(on: Gathered) -> None:
    """All that was looked at is good but for the rows that are named; what is not good becomes a finding."""
    covered = [mark.key for _, mark in looked_at(on.job.instructions)]
    bad = dict(_named(on))
    for key in bad:
        on.put("checked", key, "not good")
    if on.tick(LOOKED_ALL):
        for key in covered:
            if key not in bad:
                on.put("checked", key, "good")
    elif covered:
        on.empty(LOOKED_ALL)
        on.say(
            "doubt",
            "looks-not-confirmed",
            f"the box for all {len(covered)} points looked at is not ticked",
            "tick it when all but those named were good; else somebody looks at them again",
            LOOKED_ALL,
        )
    told = [text for text in bad.values() if text]
    on.remarks += tuple(text for text in told if text not in on.remarks)
    if bad and not on.remarks:
        on.say(
            "refused",
            "not-good-without-finding",
            f'"{on.point(next(iter(bad)))}" is not good, and nothing says what was found',
            "write it behind the row, or under findings",
            LOOKED_EXCEPT,
        )


def _named(on: Gathered) -> Iterator[tuple[str, str]]:
    """The key of each point that is named as not good, with what was found as a line of the findings."""
    points = _points(on)
    for part in _parts(on.text(LOOKED_EXCEPT)):
        match = _PART.fullmatch(part)
        label = match["label"].lower() if match else ""
        found = points.get(label, [])
        if label in on.elsewhere:
            continue
        if match is None or not found:
            known = f"row {label} is not one where something is looked at" if label else f'"{part}" begins with no row'
            on.say("refused", "no-such-row", f"not good, but: {known}", "begin with the row's number, as on the leaf",
                   LOOKED_EXCEPT)  # fmt: skip
            return
        if len(found) > 1:
            each = "; ".join(f"{step.called} {step.text}" for step, _ in found)
            on.say("refused", "which-point", f"row {label} has several points looked at: {each}",
                   "write which, with its letter", LOOKED_EXCEPT)  # fmt: skip
            return
        step, key = found[0]
        text = match["text"].strip()
        yield key, f"{step.text.rstrip('.')}: {text}" if text else ""


def _parts(text: str) -> list[str]:
    """The exceptions, parted where a new row begins: "17b worn, 20 oily, wet behind"."""
    parts: list[str] = []
    for piece in filter(None, (one.strip() for one in re.split(r"[,;\n]| and (?=\d)", text))):
        if parts and not re.match(r"(?:rows?\s+)?\d{1,3}[a-z]{0,2}\b(?!\s*(?:mm|bar|h|min|V)\b)", piece, re.IGNORECASE):
            parts[-1] += f", {piece}"
        else:
            parts.append(piece)
    return parts


def _points(on: Gathered) -> dict[str, list[tuple[JobStep, str]]]:
    """What is looked at, by the step's label and by its row's number."""
    found: dict[str, list[tuple[JobStep, str]]] = {}
    for step, mark, key in keyed(on.job.instructions.steps):
        if isinstance(mark, (m.LookMark, m.OrientationMark)):
            for label in {step.called, str(step.row or step.number)}:
                found.setdefault(label, []).append((step, key))
    return found
