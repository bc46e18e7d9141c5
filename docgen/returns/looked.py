"""What a signed sheet says was looked at, held, waited for, renewed, sealed and checked."""

from __future__ import annotations

from docgen.job import marks as m
from docgen.job.job import Check
from docgen.returns.gathered import FINDINGS, Gathered
from docgen.sheets.entries import keyed

NOT_BROKEN = frozenset({"not broken", "not removed", "none", "still on", "untouched"})
"""What people write as the number removed when the sealed part stayed on."""


def looks(on: Gathered) -> None:
    """Good or not good, one of the two; what is not good needs a finding."""
    for _, mark, key in keyed(on.job.instructions.steps):
        if not isinstance(mark, (m.LookMark, m.OrientationMark)) or on.struck(key):
            continue
        good, bad = on.tick(f"{key}_good"), on.tick(f"{key}_not")
        if good and bad:
            on.say(
                "refused",
                "good-and-not-good",
                f'"{on.name(key)}" is ticked both good and not good',
                "leave one of the two; or strike the row out, and say under findings what holds",
                f"{key}_good",
            )
        elif good or bad:
            on.put("checked", key, "good" if good else "not good")
        else:
            on.empty(key)
        if bad and not good:
            _not_good(on, key)


def _not_good(on: Gathered, key: str) -> None:
    if not on.remarks:
        on.say(
            "refused",
            "not-good-without-finding",
            f'"{on.name(key)}" is not good, and the sheet has no finding',
            "write under findings what was found and what was done about it",
            FINDINGS,
        )


def holds(on: Gathered) -> None:
    """Hold points: a second person, or an own re-check with its time."""
    done_by = on.text("done-by").casefold()
    for step, mark, key in keyed(on.job.instructions.steps):
        if not isinstance(mark, m.HoldMark):
            continue
        where = f"hold point at step {step.number}"
        second, own, at = on.text(f"{key}_second"), on.tick(f"{key}_own"), on.text(f"{key}_time")
        if second and second.casefold() == done_by:
            on.say(
                "refused",
                "second-is-the-first",
                f"{where}: {second} did the work and cannot be the second person",
                "look again later, tick own re-check and write its date and time",
                f"{key}_second",
            )
        elif not second and not (own and at):
            message = (
                "own re-check is ticked without its date and time" if own else "no second person and no own re-check"
            )
            on.say(
                "refused",
                "hold-open",
                f"{where}: {message}",
                "have it looked at and signed; or look again yourself, tick own re-check and write its date and time",
                f"{key}_time" if own else f"{key}_second",
            )
        held = {"second": second, "own": "true" if own else "", "at": at}
        if any(held.values()):
            on.put("holds", key, {part: text for part, text in held.items() if text})
        on.initials(key)


def waits(on: Gathered) -> None:
    """Times that had to pass, as they were written down."""
    for _, mark, key in keyed(on.job.instructions.steps):
        if not isinstance(mark, m.WaitMark):
            continue
        times = {part: text for part in ("start", "finish") if (text := on.text(f"{key}_{part}"))}
        if times:
            on.put("waits", key, times)
        else:
            on.empty(key)


def renewed(on: Gathered) -> None:
    """Parts renewed, with the number fitted; a number without a tick counts as renewed, and is said."""
    for _, mark, key in keyed(on.job.instructions.steps):
        if not isinstance(mark, m.RenewMark) or on.struck(key):
            continue
        tick, number = on.tick(f"{key}_renewed"), on.text(f"{key}_number")
        if not tick and not number:
            if not mark.if_needed:
                on.empty(key)
            continue
        if not tick:
            on.say(
                "note", "renewed-unticked", f"{mark.name}: number {number} is written, so it counts as renewed", at=key
            )
        if not number:
            on.empty(f"{key}_number")
        elif mark.number and number.casefold() != mark.number.casefold():
            on.say(
                "note", "other-number", f"{mark.name}: number {number} was fitted; the sheet says {mark.number}", at=key
            )
        on.put("renewed", mark.item, number or "number not noted")


def seals(on: Gathered) -> None:
    """Seals broken and fitted. Once a sealed part was off, the number of its new seal is needed."""
    rows: dict[str, dict[str, tuple[m.SealMark, str]]] = {}
    for _, mark, key in keyed(on.job.instructions.steps):
        if isinstance(mark, m.SealMark):
            rows.setdefault(mark.item, {})[mark.when] = (mark, key)
    for item, both in rows.items():
        (first, first_key) = both.get("removed") or both["fitted"]
        on.initials(first_key)
        off = on.text(both["removed"][1]) if "removed" in both else ""
        if off.casefold() in NOT_BROKEN:
            on.say("note", "seal-not-broken", f"the seal on the {first.name} was not broken", at=first_key)
            continue
        fitted = on.text(both["fitted"][1]) if "fitted" in both else ""
        if "fitted" in both and not fitted:
            on.say(
                "refused",
                "seal-number-missing",
                f"the {first.name} was off, and the number of its new seal is missing",
                'write it; where the seal was never broken, write "not broken" as the number removed',
                both["fitted"][1],
            )
        if "removed" in both:
            _removed(on, both["removed"][0], both["removed"][1], off)
        kept = {"removed": off, "fitted": fitted, "permission": on.text(f"{first_key}_permission")}
        if any(kept.values()):
            on.put("seals", item, {part: text for part, text in kept.items() if text})


def _removed(on: Gathered, mark: m.SealMark, key: str, off: str) -> None:
    if not off:
        on.empty(key)
    elif mark.number and off.casefold() != mark.number.casefold():
        on.say(
            "note" if on.remarks else "refused",
            "other-seal",
            f"seal {off} was on the {mark.name}; the record says {mark.number}",
            "" if on.remarks else "look at the number again; if it is right, write it under findings",
            key,
        )
    if not on.text(f"{key}_permission"):
        on.empty(f"{key}_permission")


def checks(on: Gathered) -> None:
    """Closing checks, and those after the first run, which may still be to come."""
    told = on.job.instructions
    done = _ticked(on, "closing", told.closing)
    still = [f"closing-{c.key}" for c in told.closing if f"closing-{c.key}" not in (*done, *on.voided)]
    for key in still:
        on.empty(key)
    if still:
        on.say(
            "doubt",
            "closing-check-open",
            f"{len(still)} of {len(told.closing)} closing checks are not ticked, the first: {on.name(still[0])}",
            "make them before the engine runs, and tick them",
            still[0],
        )
    after = _ticked(on, "after-run", told.after_run)
    first_run = {
        "on": _iso(on, "after-run-date"),
        "time": on.text("after-run-time"),
        "by": on.text("after-run-by"),
    }
    if any(first_run.values()):
        on.event["first_run"] = {part: text for part, text in first_run.items() if text}
    if after or any(first_run.values()):
        for key in (f"after-run-{check.key}" for check in told.after_run):
            if key not in after and key not in on.voided:
                on.empty(key)
    elif told.after_run:
        on.say("note", "first-run-to-come", "the checks after the first run are still to come")


def _ticked(on: Gathered, prefix: str, checks: tuple[Check, ...]) -> list[str]:
    keys = [f"{prefix}-{check.key}" for check in checks]
    done = [key for key in keys if not on.struck(key) and on.tick(key)]
    for key in done:
        on.put("checked", key, "done")
    return done


def _iso(on: Gathered, at: str) -> str:
    day = on.day(at, "After the first run, date")
    return day.isoformat() if day else ""
