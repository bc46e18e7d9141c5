"""What a signed sheet says was looked at, held, waited for, sealed and checked.

What was looked at is told by exception: one tick for all that is good, and by its row what is not.
"""

import re
from collections.abc import Iterator

from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT, entry
from docgen.job import marks as m
from docgen.job.job import JobStep
from docgen.returns.answers import FormReading
from docgen.sheets.entries import keyed, looked_at

_PART = re.compile(r"(?:rows?\s+)?(?P<label>\d{1,3}[a-z]{0,2})\b[\s:.-]*(?P<text>.*)", re.IGNORECASE | re.DOTALL)
NOT_BROKEN = frozenset({"not broken", "not removed", "none", "still on", "untouched"})
"""What people write as the number removed when the sealed part stayed on."""


def looks(form: FormReading) -> None:
    """All that was looked at is good but for the rows that are named; what is not good becomes a finding."""
    covered = [mark.key for _, mark in looked_at(form.job.instructions)]
    bad = dict(_named(form))
    for key in bad:
        form.put("checked", key, "not good")
    if form.tick(LOOKED_ALL):
        for key in (key for key in covered if key not in bad):
            form.put("checked", key, "good")
    elif covered:
        form.empty(LOOKED_ALL)
        form.say("doubt", "looks-not-confirmed", f"the box for all {len(covered)} points looked at is not ticked",
               "tick it when all but those named were good; else somebody looks at them again", LOOKED_ALL)  # fmt: skip
    told = [text for text in bad.values() if text]
    form.remarks += tuple(text for text in told if text not in form.remarks)
    if bad and not form.remarks:
        message = f'"{form.point(next(iter(bad)))}" is not good, and nothing says what was found'
        form.refuse("not-good-without-finding", message, "write it behind the row, or under findings", LOOKED_EXCEPT)


def _named(form: FormReading) -> Iterator[tuple[str, str]]:
    """The key of each point that is named as not good, with what was found as a line of the findings."""
    points = _points(form)
    for part in _parts(form.text(LOOKED_EXCEPT)):
        match = _PART.fullmatch(part)
        label = match["label"].lower() if match else ""
        found = points.get(label, [])
        if label in form.elsewhere:
            continue
        if match is None or not found:
            known = f"row {label} is not one where something is looked at" if label else f'"{part}" begins with no row'
            hint = "begin with the row's number, as on the leaf"
            form.refuse("no-such-row", f"not good, but: {known}", hint, LOOKED_EXCEPT)
            return
        if len(found) > 1:
            each = "; ".join(f"{step.called} {step.text}" for step, _ in found)
            form.refuse("which-point", f"row {label} has several points looked at: {each}",
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


def _points(form: FormReading) -> dict[str, list[tuple[JobStep, str]]]:
    """What is looked at, by the step's label and by its row's number."""
    found: dict[str, list[tuple[JobStep, str]]] = {}
    for step, mark, key in keyed(form.job.instructions.steps):
        if isinstance(mark, (m.LookMark, m.OrientationMark)):
            for label in {step.called, str(step.row or step.number)}:
                found.setdefault(label, []).append((step, key))
    return found


def holds(form: FormReading) -> None:
    """Hold points: a second person, or an own re-check with its time."""
    done_by = form.text("done-by").casefold()
    for step, mark in form.marks(m.HoldMark):
        where = f"hold point at row {step.called}"
        held = entry(mark, form)
        second, own = held.get("second", ""), "own" in held
        if second and second.casefold() == done_by:
            message = f"{where}: {second} did the work and cannot be the second person"
            hint = "look again later, tick own re-check and write its date and time"
            form.refuse("second-is-the-first", message, hint, mark.second_box)
        elif not second and not {"own", "at"} <= held.keys():
            lack = "own re-check is ticked without its date and time" if own else "no second person and no own re-check"
            hint = "have it looked at and signed; or look again yourself, tick own re-check and write its date and time"
            form.refuse("hold-open", f"{where}: {lack}", hint, mark.time_box if own else mark.second_box)
        if held:
            form.put(mark.row.table, mark.key, held)


def rows(form: FormReading) -> None:
    """What is kept as it was written down, as the times that had to pass."""
    for mark in (mark for kind in m.ROWED if kind is not m.HoldMark for _, mark in form.marks(kind)):
        if written := entry(mark, form):
            form.put(mark.row.table, mark.key, written)
        elif mark.key in form.names:
            form.empty(mark.key)


def seals(form: FormReading) -> None:
    """Seals broken and fitted. Once a sealed part was off, the number of its new seal is needed."""
    rows: dict[str, dict[str, m.SealMark]] = {}
    for _, mark in form.marks(m.SealMark):
        rows.setdefault(mark.item, {})[mark.when] = mark
    for item, both in rows.items():
        removed, fitted = both.get("removed"), both.get("fitted")
        first = next(iter(both.values()))
        off = form.text(removed.number_box) if removed else ""
        if off.casefold() in NOT_BROKEN:
            form.note("seal-not-broken", f"the seal on the {first.name} was not broken", at=first.key)
            continue
        new = form.text(fitted.number_box) if fitted else ""
        if fitted and not new:
            message = f"the {first.name} was off, and the number of its new seal is missing"
            hint = 'write it; where the seal was never broken, write "not broken" as the number removed'
            form.refuse("seal-number-missing", message, hint, fitted.number_box)
        if removed:
            _removed(form, removed, off)
        kept = {"removed": off, "fitted": new, **entry(removed or first, form)}
        if any(kept.values()):
            form.put("seals", item, {part: text for part, text in kept.items() if text})


def _removed(form: FormReading, mark: m.SealMark, off: str) -> None:
    if not off:
        form.empty(mark.key)
    elif mark.number and off.casefold() != mark.number.casefold():
        form.unexplained("other-seal", f"seal {off} was on the {mark.name}; the record says {mark.number}",
                       "look at the number again; if it is right, write it under findings", mark.number_box)
    if not form.text(mark.permission_box):
        form.empty(mark.permission_box)


def checks(form: FormReading) -> None:
    """The looks that are signed one by one, and the checks after the first run, which may still be to come."""
    told = form.job.instructions
    for check in told.closing:
        if form.tick(check.closing_box) and check.key not in form.event.get("checked", {}):
            form.put("checked", check.key, "good")
    still = [check for check in told.closing if check.key not in form.event.get("checked", {})]
    for check in still:
        form.empty(check.closing_box)
    if still:
        which = f"{len(still)} of {len(told.closing)} checks before the release"
        form.say("doubt", "closing-check-open", f"{which} are not ticked, the first: {still[0].text}",
               "make them before the engine goes out, and tick them", still[0].closing_box)  # fmt: skip
    after = [check.after_run_box for check in told.after_run if form.tick(check.after_run_box)]
    for key in after:
        form.put("checked", key, "done")
    if form.together("first_run") or after:
        for check in told.after_run:
            if check.after_run_box not in after:
                form.empty(check.after_run_box)
    elif told.after_run:
        form.note("first-run-to-come", "the checks after the first run are still to come")
