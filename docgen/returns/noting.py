"""What happens to an engine away from a sheet: findings, changes, settings, its keeper, its own intervals.

Each function gives one event as plain data, for :func:`docgen.returns.filing.file_event`.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from docgen.club.folder import EngineRecord, Folder
from docgen.club.problem import alike, close_name
from docgen.club.schema.event import Deviation
from docgen.club.schema.model import Model
from docgen.job.state import EngineState
from docgen.returns.diagnostic import Refused

MANY = 30
"""More names than these are not listed: they stand in a file."""
_NOUGHT = re.compile(r"[+-]?0*[.,]?0*\s*[^\s\d]*")
LEAST = 6
"""Fewest digits by which a finding or a deviation is named."""


def found(folder: Folder, model: Model, text: str, item: str | None, calls: str | None) -> dict[str, Any]:
    """Something seen that is not as it should be. Errors: Refused ``no-text``, ``unknown-part``, ``unknown-job``."""
    event = {"event": "finding", "finding": _text(text, "what was found")}
    if item:
        event["item"] = _one_of(item, (*model.parts, *model.fasteners), "part", f"models/{model.model}.yaml")
    if calls:
        event["calls"] = _one_of(folder.codes.get(calls.upper(), calls), folder.procedures, "job")
    return event


def dealt_with(state: EngineState, which: str, how: str) -> dict[str, Any]:
    """An open finding that needs nothing more. Errors: Refused ``no-text``, ``unknown-finding``, ``which-finding``."""
    known = {f.digest: f for f in state.findings}
    finding = known[_digest(which, known, "finding")]
    event = {"event": "finding", "finding": _text(how, "how it was dealt with"), "closes": finding.digest}
    return {**event, **({"item": finding.item} if finding.item else {})}


def deviates(
    model: Model, item: str, what: str, why: str | None, now: Mapping[str, str], left_out: bool
) -> dict[str, Any]:
    """Where the engine is not as its model any more.

    now    : what holds instead, by key of the model's entry: ``thread``, ``torque``, ``boss.engaged``
    Errors : Refused ``no-text``, ``unknown-item``
    """
    known = (*model.parts, *model.fasteners, *model.limits, *model.settings)
    event: dict[str, Any] = {
        "event": "deviation", "item": _one_of(item, known, "item", f"models/{model.model}.yaml"),
        "what": _text(what, "what is different"),
    }  # fmt: skip
    changes: dict[str, Any] = {}
    for key, value in now.items():
        inner, _, outer = key.rpartition(".")[::-1]
        (changes.setdefault(outer, {}) if outer else changes)[inner] = value
    return event | ({"why": why} if why else {}) | ({"changes": changes} if changes else {}) | (
        {"left_out": "true"} if left_out else {}
    )  # fmt: skip


def as_model_again(digests: Mapping[str, Deviation], which: str, how: str) -> dict[str, Any]:
    """A deviation that is no more. Errors: Refused ``no-text``, ``unknown-deviation``, ``which-deviation``."""
    digest = _digest(which, digests, "deviation")
    return {"event": "deviation", "item": digests[digest].item, "what": _text(how, "how it was made good"),
            "ends": digest}  # fmt: skip


def set_to(model: Model, setting: str, value: str) -> dict[str, Any]:
    """A setting changed at the track. Errors: Refused ``no-text``, ``unknown-setting``."""
    return {"event": "setting", "setting": _one_of(setting, model.settings, "setting"),
            "value": _text(value, "what it is set to")}  # fmt: skip


def kept_by(state: EngineState, keeper: str) -> dict[str, Any]:
    """Another keeper. Errors: Refused ``no-text``, ``nothing-changed``."""
    if _text(keeper, "who keeps the engine now") == state.keeper:
        raise Refused("nothing-changed", f"{keeper} is its keeper already")
    return {"event": "owner", "keeper": keeper}


def every(folder: Folder, job: str, counts: Mapping[str, str | None], why: str | None) -> dict[str, Any]:
    """The engine's own interval for a job. Errors: Refused ``no-interval``, ``unknown-job``."""
    given = {key: value for key, value in counts.items() if value}
    if not given:
        raise Refused("no-interval", "how often is not said", 'say it as in --hours "8 h" or --months 6')
    if nothing := next((text for text in given.values() if _NOUGHT.fullmatch(text.strip())), ""):
        raise Refused("no-interval", f"{nothing} is no interval: the job would always be due",
                      'say it as in --hours "8 h" or --months 6')  # fmt: skip
    event = {"event": "interval", "procedure": _one_of(folder.codes.get(job.upper(), job), folder.procedures, "job")}
    return {**event, "every": given, **({"why": why} if why else {})}


def deviations_of(record: EngineRecord) -> dict[str, Deviation]:
    """The deviations in force, by the digest of their event."""
    events = [(digest, event) for digest, event in record.log.happened if isinstance(event, Deviation)]
    ended = tuple(event.ends for _, event in events if event.ends)
    return {digest: event for digest, event in events if not event.ends and not digest.startswith(ended)}


def _text(text: str, what: str) -> str:
    if not text.strip():
        raise Refused("no-text", f"{what} is not said", "say it in a few words, in quotes")
    return text.strip()


def _one_of(name: str, known: Iterable[str], what: str, place: str = "") -> str:
    names = sorted(known)
    if name in names:
        return name
    close = close_name(name, names)
    like = alike(name, names) or ([] if place and len(names) > MANY else names)
    hint = f'did you mean "{close}"?' if close else f"known: {', '.join(like)}" if like else f"all are in {place}"
    raise Refused(f"unknown-{what}", f'there is no {what} "{name}" for this engine', hint)


def _digest(which: str, known: Iterable[str], what: str) -> str:
    """The one of `known` that begins so."""
    names = list(known)
    meant = [name for name in names if len(which) >= LEAST and name.startswith(which.lower())]
    if which.lower() in names or len(meant) == 1:
        return which.lower() if which.lower() in names else meant[0]
    if not meant:
        raise Refused(f"unknown-{what}", f'no open {what} is called "{which}"',
                      f"give at least {LEAST} of the digits that stand before it in the list")  # fmt: skip
    raise Refused(f"which-{what}", f'"{which}" may be {" or ".join(meant)}', "give more digits")
