"""The small club's engine 7A with a past: running, services, a renewal, corrections, a rebuild, another keeper."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.returns.filing import Filed, file_event
from tests.smallclub import texts, write

ON = date(2030, 3, 1)
MODEL = texts()["models/willow-80.yaml"].replace(
    "rotor-gap: {gauge: feelers,", "rotor-gap: {of: rotor, wears: up, gauge: feelers,"
)

SEALED = {"blank": ["wait"], "seals": {"side-plate": {"removed": "S-100", "fitted": "S-101"}}}


def _service(day: str, gap: str, **more: Any) -> dict[str, Any]:
    return {"event": "service", "date": day, "by": "Ágnes Őry", "procedure": "rotor-service", "revision": "3",
            "readings": {"rotor-gap": [gap]}, **more}  # fmt: skip


def _run(day: str, hours: str, **more: Any) -> dict[str, Any]:
    return {"event": "run", "date": day, "hours": hours, **more}


def past(root: Path) -> dict[str, Filed]:
    """Write the club and its past; the events by a name."""
    write(root, {"models/willow-80.yaml": MODEL})

    def file(event: dict[str, Any]) -> Filed:
        return file_event(root, "7A", event)

    filed = {
        "first": file(_service("2029-03-02", "0.30 mm", renewed={"rotor": "W-1"}, sheet="7A-ROT-03-001-S1-I")),
        "rebuilt": file(
            {"event": "rebuilt", "date": "2029-03-02", "by": "Bo Lind", "approved_by": "Club scrutineer",
             **dict.fromkeys(("disassembled", "inspected", "repaired", "reassembled", "tested", "new_limits"), "true")}
        ),
        "run": file(_run("2029-04-01", "2 h", sessions="8 x 15 min", meeting="First")),
        "second": file(_service("2029-05-01", "0.34 mm", findings=["Rubs a little"], second="Bo Lind")),
        "too much": file(_run("2029-06-01", "5 h")),
        "third": file(_service("2029-07-01", "0.38 mm", **SEALED)),
        "owner": file({"event": "owner", "date": "2029-08-01", "keeper": "Bo Lind"}),
        "nonsense": file(_run("2030-02-01", "1 h")),
    }  # fmt: skip
    for name, why, instead in (
        ("too much", "a nought too many", _run("2029-06-01", "3 h")),
        ("third", "read again", _service("2029-07-01", "0.40 mm", **SEALED)),
        ("nonsense", "another engine", None),
    ):  # fmt: skip
        correction = {
            "event": "correction",
            "date": "2030-02-02",
            "by": "Bo Lind",
            "corrects": filed[name].digest,
            "why": why,
        }
        file({**correction, **({"instead": instead} if instead else {})})
    return filed


def folder_of(root: Path) -> Folder:
    """The club, read, without a problem."""
    folder = read_club(root)
    assert [str(problem) for problem in folder.problems] == []
    return folder
