"""What a signed sheet says was held, waited for, sealed and checked."""

from __future__ import annotations

from docgen.club.verbs.boxes import entry
from docgen.job import marks as m
from docgen.returns.answers import Gathered

NOT_BROKEN = frozenset({"not broken", "not removed", "none", "still on", "untouched"})
"""What people write as the number removed when the sealed part stayed on."""


def holds(on: Gathered) -> None:
    """Hold points: a second person, or an own re-check with its time."""
    done_by = on.text("done-by").casefold()
    for step, mark in on.marks(m.HoldMark):
        where = f"hold point at row {step.called}"
        held = entry(mark, on)
        second, own = held.get("second", ""), "own" in held
        if second and second.casefold() == done_by:
            on.say(
                "refused",
                "second-is-the-first",
                f"{where}: {second} did the work and cannot be the second person",
                "look again later, tick own re-check and write its date and time",
                mark.second_box,
            )
        elif not second and not {"own", "at"} <= held.keys():
            message = (
                "own re-check is ticked without its date and time" if own else "no second person and no own re-check"
            )
            on.say(
                "refused",
                "hold-open",
                f"{where}: {message}",
                "have it looked at and signed; or look again yourself, tick own re-check and write its date and time",
                mark.time_box if own else mark.second_box,
            )
        if held:
            on.put(mark.row.table, mark.key, held)


def rows(on: Gathered) -> None:
    """What is kept as it was written down, as the times that had to pass."""
    for mark in (mark for kind in m.ROWED if kind is not m.HoldMark for _, mark in on.marks(kind)):
        if written := entry(mark, on):
            on.put(mark.row.table, mark.key, written)
        elif mark.key in on.names:
            on.empty(mark.key)


def seals(on: Gathered) -> None:
    """Seals broken and fitted. Once a sealed part was off, the number of its new seal is needed."""
    rows: dict[str, dict[str, m.SealMark]] = {}
    for _, mark in on.marks(m.SealMark):
        rows.setdefault(mark.item, {})[mark.when] = mark
    for item, both in rows.items():
        removed, fitted = both.get("removed"), both.get("fitted")
        first = next(iter(both.values()))
        off = on.text(removed.number_box) if removed else ""
        if off.casefold() in NOT_BROKEN:
            on.say("note", "seal-not-broken", f"the seal on the {first.name} was not broken", at=first.key)
            continue
        new = on.text(fitted.number_box) if fitted else ""
        if fitted and not new:
            on.say(
                "refused",
                "seal-number-missing",
                f"the {first.name} was off, and the number of its new seal is missing",
                'write it; where the seal was never broken, write "not broken" as the number removed',
                fitted.number_box,
            )
        if removed:
            _removed(on, removed, off)
        kept = {"removed": off, "fitted": new, **entry(removed or first, on)}
        if any(kept.values()):
            on.put("seals", item, {part: text for part, text in kept.items() if text})


def _removed(on: Gathered, mark: m.SealMark, off: str) -> None:
    if not off:
        on.empty(mark.key)
    elif mark.number and off.casefold() != mark.number.casefold():
        on.say(
            "note" if on.remarks else "refused",
            "other-seal",
            f"seal {off} was on the {mark.name}; the record says {mark.number}",
            "" if on.remarks else "look at the number again; if it is right, write it under findings",
            mark.number_box,
        )
    if not on.text(mark.permission_box):
        on.empty(mark.permission_box)


def checks(on: Gathered) -> None:
    """The looks that are signed one by one, and the checks after the first run, which may still be to come."""
    told = on.job.instructions
    for check in told.closing:
        if on.tick(check.closing_box) and check.key not in on.event.get("checked", {}):
            on.put("checked", check.key, "good")
    still = [check for check in told.closing if check.key not in on.event.get("checked", {})]
    for check in still:
        on.empty(check.closing_box)
    if still:
        on.say(
            "doubt",
            "closing-check-open",
            f"{len(still)} of {len(told.closing)} checks before the release are not ticked, the first: {still[0].text}",
            "make them before the engine goes out, and tick them",
            still[0].closing_box,
        )
    after = [check.after_run_box for check in told.after_run if on.tick(check.after_run_box)]
    for key in after:
        on.put("checked", key, "done")
    day = on.day("after-run-date", "After the first run, date")
    first_run = {
        "on": day.isoformat() if day else "",
        "time": on.text("after-run-time"),
        "by": on.text("after-run-by"),
    }
    if any(first_run.values()):
        on.event["first_run"] = {part: text for part, text in first_run.items() if text}
    if after or any(first_run.values()):
        for check in told.after_run:
            if check.after_run_box not in after:
                on.empty(check.after_run_box)
    elif told.after_run:
        on.say("note", "first-run-to-come", "the checks after the first run are still to come")
