"""A finding leads on: printed, filled in, filed, due with its reason, signed, due no more; the kit has the spare."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.event import LeadsOn, Service
from tests.returns.conftest import GOOD
from tests.returns.filling import filled
from tests.smallclub import texts, write

LOOK_ROUND = """\
procedure: look-round
title: Look round
code: LOO
revision: 1
dated: 2030-01-01
needs: [dry-rotor]
every: {occasion: each day on the track}
stages:
  - stage: Look
    steps:
      - do: Push and pull the rotor.
        look: {id: rotor-firm, accept: It does not move., fail: {do: Do not run the engine., CALLS}}
      - do: Look at the side plate.
        look: {id: plate-whole, accept: No crack., fail: {do: Have it welded.}}
"""
LOOKED = {
    "work-started": "2030-04-02",
    "work-completed": "2030-04-02",
    "engine-hours": "4.0",
    "done-by": "Bo Lind",
    "looked-all": "on",
    "looked-except": "1",
    "findings": "Rotor rattles on its nut",
    "released-by": "Bo Lind",
    "released-on": "2030-04-02",
}
WHAT = "Push and pull the rotor: not good (LOO, row 1)"
ROTOR = "Rotor - clean and regrease"


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


def club(root: Path, calls: str) -> Path:
    """The small club whose rotor job is not due by itself on the day, with the other job beside it."""
    needs = next(line for line in texts()["procedures/rotor-service.yaml"].splitlines() if line.startswith("needs:"))
    job = LOOK_ROUND.replace("needs: [dry-rotor]", needs).replace("CALLS", calls)
    return write(root, {"procedures/look-round.yaml": job})


def done(root: Path, code: str, on: str, answers: dict[str, str]) -> str:
    """A job printed on a day, its sheet filled in and filed; what filing said."""
    printed = say(root, "print", "7A", "--job", code, "--on", on)
    assert printed.exit_code == 0, printed.output
    path = root / f"{code}.pdf"
    path.write_bytes(filled((root / f"out/7A/7A-{code}-sign-off.pdf").read_bytes(), answers))
    filed = say(root, "file", "--yes", "--on", "2030-04-10", str(path))
    assert filed.exit_code == 0, filed.output
    return filed.output


def due(root: Path, on: str) -> list[tuple[str, str, list[str]]]:
    """Job, state and reasons of each line of engine 7A that is not in date."""
    lines = json.loads(say(root, "due", "7A", "--json", "--on", on).stdout)
    lines = lines["due"] if isinstance(lines, dict) else lines
    return [(one["job"], one["state"], one["reasons"]) for one in lines if one["state"] not in ("in date", "coming")]


def rotor_kit(root: Path) -> list[tuple[str, int, int]]:
    """Name, pieces for sure and pieces at hand of each spare in the rotor job's kit."""
    kit = json.loads(say(root, "kit", "7A", "--job", "ROT", "--json", "--on", "2030-04-03").stdout)
    return [(part["name"], part["needed"], part["at_hand"]) for part in kit["parts"]]


def test_a_check_that_calls_for_a_job_and_a_spare(tmp_path: Path) -> None:
    root = club(tmp_path, "calls: rotor-service, spares: [rotor]")
    done(root, "ROT", "2030-04-01", GOOD | {"work-started": "2030-04-01", "work-completed": "2030-04-01"})
    before = rotor_kit(root)
    assert due(root, "2030-04-03") == []
    said = done(root, "LOO", "2030-04-02", LOOKED)
    assert f"note leads-on: {WHAT}: rotor-service is due until it is signed, and asked for new: rotor" in said
    filed = read_club(root).engines["7A"].log.of(Service)[-1]
    assert filed.leads_on == (LeadsOn(check="rotor-firm", what=WHAT, calls="rotor-service", spares=("rotor",)),)
    reason = f"found 2030-04-02: {WHAT}; to be fitted new: rotor"
    assert due(root, "2030-04-03") == [
        ("", "due", ["found 2030-04-02: Rotor rattles on its nut"]),
        ("rotor-service", "due", [reason]),
    ]
    assert rotor_kit(root) == [*before, ("rotor", 1, 0)]
    signed = GOOD | {
        "work-started": "2030-04-03",
        "open-finding-1_done": "on",
        "open-finding-1_how": "new rotor",
        "measure-rotor-gap": "0.25",
        "seal-off-side-plate": "S-101",
        "seal-on-side-plate": "S-102",
    }
    done(root, "ROT", "2030-04-03", signed)
    assert due(root, "2030-04-04") == []
    assert rotor_kit(root) == before


def test_a_check_that_asks_for_a_spare_alone(tmp_path: Path) -> None:
    """It is on the list of the job that renews the part, and stays until the part has been renewed."""
    root = club(tmp_path, "spares: [spacer]")
    done(root, "ROT", "2030-04-01", GOOD | {"work-started": "2030-04-01", "work-completed": "2030-04-01"})
    assert [part for part in rotor_kit(root) if part[0] == "spacer"] == [("spacer", 0, 1)]
    done(root, "LOO", "2030-04-02", LOOKED)
    reason = f"found 2030-04-02: {WHAT}; to be fitted new: spacer"
    assert ("rotor-service", "due", [reason]) in due(root, "2030-04-03")
    assert [part for part in rotor_kit(root) if part[0] == "spacer"] == [("spacer", 1, 0)]
    again = GOOD | {"work-started": "2030-04-03", "seal-off-side-plate": "S-101", "seal-on-side-plate": "S-102"}
    done(root, "ROT", "2030-04-03", again)
    assert ("rotor-service", "due", [reason]) in due(root, "2030-04-04")
    fitted = again | {
        "work-started": "2030-04-04",
        "work-completed": "2030-04-04",
        "released-on": "2030-04-04",
        "second-on": "2030-04-04",
        "also-renewed-1": "spacer, W-7",
        "seal-off-side-plate": "S-102",
        "seal-on-side-plate": "S-103",
    }
    done(root, "ROT", "2030-04-04", fitted)
    assert [line for line in due(root, "2030-04-05") if line[0]] == []


def test_a_reading_outside_its_limit_leads_on_too(tmp_path: Path) -> None:
    rotor = texts()["procedures/rotor-service.yaml"].replace(
        "fail: {do: Take the rotor off and look for a bent spacer.}", "fail: {calls: look-round, spares: [rotor]}"
    )
    root = club(tmp_path, "calls: rotor-service")
    (root / "procedures/rotor-service.yaml").write_text(rotor, "utf-8")
    answers = {"measure-rotor-gap": "0.50", "findings": "Rotor rubs", "work-completed": "2030-04-01",
               "work-started": "2030-04-01"}  # fmt: skip
    done(root, "ROT", "2030-04-01", GOOD | answers)
    found = [line for line in due(root, "2030-04-03") if line[0] == "look-round"]
    what = "rotor gap, 0.50 mm: outside 0.20 to 0.45 mm (ROT, row 13)"
    assert found == [("look-round", "due", [f"found 2030-04-01: {what}; to be fitted new: rotor"])]


@pytest.mark.parametrize(
    ("key", "name", "says"),
    [
        ("calls: rotor-servce", "unknown-procedure", 'there is no procedure called "rotor-servce"'),
        (
            "spares: [roter]",
            "unknown-part-or-fastener",
            'no model that this job applies to has a part-or-fastener called "roter"',
        ),
    ],
)
def test_a_name_that_is_not_known_is_reported(tmp_path: Path, key: str, name: str, says: str) -> None:
    problems = [p for p in read_club(club(tmp_path, key)).problems if p.level == "error"]
    assert [(p.path, p.name) for p in problems] == [("procedures/look-round.yaml", name)]
    assert problems[0].message == says
