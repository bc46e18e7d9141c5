"""The checks after the first run, added to a sheet that was filed before it: nothing else of it is touched."""

from __future__ import annotations

import copy
from collections.abc import Iterable
from datetime import date
from typing import Any

from docgen.club.log import Held
from docgen.job.job import Check
from docgen.returns.correcting import plain

WHY = "checks after the first run"


def after_run_event(held: Held, checks: Iterable[Check], day: date, by: str, ran: str) -> dict[str, Any]:
    """The event that adds them: what was filed, with the checks done, on this day, by whom, after what running."""
    instead: dict[str, Any] = copy.deepcopy(plain(held))
    keys = [check.after_run_box for check in checks]
    instead["checked"] = {**instead.get("checked", {}), **dict.fromkeys(keys, "done")}
    told = {"on": day.isoformat(), "time": ran, "by": by}
    instead["first_run"] = {part: text for part, text in told.items() if text}
    blank = [row for row in instead.get("blank", []) if row not in keys]
    instead = {**instead, "blank": blank} if blank else {key: one for key, one in instead.items() if key != "blank"}
    return {"event": "correction", "date": day.isoformat(), "corrects": held.entry.digest, "why": WHY,
            "by": by, "instead": instead}  # fmt: skip
