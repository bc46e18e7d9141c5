"""What a signed sheet says was held, waited for, sealed and checked."""

from __future__ import annotations

from docgen.job import marks as m
from docgen.returns.gathered import Gathered
from docgen.sheets.entries import keyed

NOT_BROKEN = frozenset({"not broken", "not removed", "none", "still on", "untouched"})
"""What people write as the number removed when the sealed part stayed on."""


def holds(on: Gathered) -> None:
    """Hold points: a second person, or an own re-check with its time."""
    done_by = on.text("done-by").casefold()
    for step, mark, key in keyed(on.job.instructions.steps):
        if not isinstance(mark, m.HoldMark):
            continue
        where = f"hold point at row {step.called}"
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


def waits(on: Gathered) -> None:
    """Times that had to pass, as they were written down."""
    for _, mark, key in keyed(on.job.instructions.steps):
        if not isinstance(mark, m.WaitMark) or key not in on.names:
            continue
        times = {part: text for part in ("start", "finish") if (text := on.text(f"{key}_{part}"))}
        if times:
            on.put("waits", key, times)
        else:
            on.empty(key)


def seals(on: Gathered) -> None:
    """Seals broken and fitted. Once a sealed part was off, the number of its new seal is needed."""
    rows: dict[str, dict[str, tuple[m.SealMark, str]]] = {}
    for _, mark, key in keyed(on.job.instructions.steps):
        if isinstance(mark, m.SealMark):
            rows.setdefault(mark.item, {})[mark.when] = (mark, key)
    for item, both in rows.items():
        (first, first_key) = both.get("removed") or both["fitted"]
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
    """The looks that are signed one by one, and the checks after the first run, which may still be to come."""
    told = on.job.instructions
    for check in told.closing:
        if on.tick(f"closing-{check.key}") and check.key not in on.event.get("checked", {}):
            on.put("checked", check.key, "good")
    still = [check for check in told.closing if check.key not in on.event.get("checked", {})]
    for check in still:
        on.empty(f"closing-{check.key}")
    if still:
        on.say(
            "doubt",
            "closing-check-open",
            f"{len(still)} of {len(told.closing)} checks before the release are not ticked, the first: {still[0].text}",
            "make them before the engine goes out, and tick them",
            f"closing-{still[0].key}",
        )
    after = [f"after-run-{check.key}" for check in told.after_run if on.tick(f"after-run-{check.key}")]
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
            if f"after-run-{check.key}" not in after:
                on.empty(f"after-run-{check.key}")
    elif told.after_run:
        on.say("note", "first-run-to-come", "the checks after the first run are still to come")
