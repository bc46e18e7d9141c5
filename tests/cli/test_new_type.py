"""An engine type begun from one that it is like; and files half written, which stop only what needs them."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.uses import uses
from docgen.job.blank import blank_job
from docgen.job.marks import ReadingMark
from docgen.proof import proof_all

FITTING = "AFT, BTW, BOT, CAR, POP, OWN, CLU, PRT, MOU, EXH, FUE, IGN, INC, PRE, PRS, REE, RUN, PLU, SPR, TOP, WIN"
DAY = date(2027, 3, 1)


def say(club: Path, *words: str, typed: str = "") -> Result:
    said = ["--club", str(club), *words]
    return CliRunner().invoke(docgen, said, prog_name="docgen", input=typed, catch_exceptions=False)


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A club with the Alder and its jobs, and one engine of it."""
    root = tmp_path_factory.mktemp("begun") / "club"
    words = ("new", "club", str(root), "--name", "Marsh Lane", "--take", "alder-100r", "--yes")
    assert CliRunner().invoke(docgen, words, catch_exceptions=False).exit_code == 0
    assert say(root, "new", "engine", "1", "--keeper", "Jo", "--received", "2026-10-01", "--yes").exit_code == 0
    return root


@pytest.fixture
def club(begun: Path, tmp_path: Path) -> Path:
    """The same, to be changed."""
    return Path(shutil.copytree(begun, tmp_path / "club"))


def rowan(club: Path, *words: str) -> Result:
    also = ("--without", "electric-start battery", "--differs", "clutch-nut catch=clip", "--differs",
            "clutch-nut name=circlip of the clutch")  # fmt: skip
    return say(club, "new", "model", "rowan-100a", "--like", "alder-100r", *also, *words)


def test_a_type_that_is_like_another_fits_its_jobs_and_has_none_of_its_figures(club: Path) -> None:
    made = rowan(club, "--yes")
    assert made.exit_code == 0, made.output
    assert made.stdout == f"""\
Engine type Rowan 100a: {club}/models/rowan-100a.yaml
Jobs that fit it: {FITTING}
Next:  docgen new engine NUMBER   then   docgen print NUMBER --job AFT
"""
    folder = read_club(club)
    assert [one for one in [*folder.problems, *proof_all(folder)] if one.level == "error"] == []
    alder, model = folder.models["alder-100r"].value, folder.models["rowan-100a"].value
    assert "electric-start" not in model.equipment
    starter = {one.name for one in uses(folder, folder.procedures["starter-drive-service"], alder)}
    assert "starter-drive" in starter
    assert "starter-drive" not in {*model.parts, *model.fasteners}
    circlip = model.fasteners["clutch-nut"]
    assert (circlip.catch, str(circlip.name)) == ("clip", "circlip of the clutch")
    assert (circlip.thread, circlip.drive) == (None, None)
    items = [*model.parts.values(), *model.fasteners.values()]
    assert len(items) > 100
    assert [one for one in items if one.number or one.life] == []
    assert [one for one in model.fasteners.values() if one.torque or one.angle or one.stages] == []
    assert [one for one in model.limits.values() if one.new or one.allow or (one.unit is None)] == []
    assert [one for one in model.settings.values() if one.start or one.ceiling] == []


def test_a_reading_whose_limits_nobody_knows_is_a_blank_line_in_its_unit(club: Path) -> None:
    rowan(club, "--yes")
    folder = read_club(club)
    job = blank_job(folder, "rowan-100a", folder.procedures["clutch-service"], DAY)
    marks = {mark.limit: mark for stage in job.instructions.stages for step in stage.steps for mark in step.marks
             if isinstance(mark, ReadingMark)}  # fmt: skip
    assert (marks["drum-bore"].unit, marks["drum-bore"].allow.origin, marks["drum-bore"].new) == ("mm", "blank", None)


def test_figures_said_to_be_the_same_are_kept(club: Path) -> None:
    assert rowan(club, "--figures", "same", "--yes").exit_code == 0
    folder = read_club(club)
    alder, model = folder.models["alder-100r"].value, folder.models["rowan-100a"].value
    assert model.limits["drum-bore"] == alder.limits["drum-bore"]
    assert model.fasteners["head-nuts"].torque == alder.fasteners["head-nuts"].torque


def test_only_what_differs_is_asked(club: Path) -> None:
    typed = "\n\n\nelectric-start batery\nelectric-start battery\n\n\nclutch-nutt catch=clip\nclutch-nut catch=clip\n\n"
    made = say(club, "new", "model", "rowan-100a", "--like", "alder-100r", typed=typed)
    assert made.exit_code == 0, made.output
    has = ", ".join(read_club(club).models["alder-100r"].value.equipment)
    differs = "What differs, as in  clutch-nut drive=hex 19 mm  (empty: nothing more): "
    assert [line for line in made.output.splitlines() if line.startswith(("What differs", "Error"))] == [
        f'Error: there is no equipment "batery"; known: {has}',
        f"{differs}clutch-nutt catch=clip",
        'Error: there is no part, fastener, limit or setting "clutch-nutt"; did you mean "clutch-nut"?',
        f"{differs}clutch-nut catch=clip",
        differs,
    ]


def test_the_example_of_a_type_uses_the_names_of_the_jobs(club: Path) -> None:
    made = say(club, "new", "model", "elm-60", "--equipment", "spark-ignition", "--yes")
    assert made.stdout.splitlines()[1:5] == [
        "  PLU lacks 3 names: spark-plug-cap, plug-reach, plug-gap",
        "  EXH lacks 4 names: exhaust-gasket, exhaust-springs, spark-plug-cap, exhaust-pipe",
        "  IGN lacks 16 names: rotor-key, rotor-nut, spark-plug-cap, loom-connectors, stop-circuit, "
        "plug-cap-resistance, coil-resistance, ignition-cover-screws and 8 more",
        "  TOP lacks 26 names: base-gasket, pin-circlips, piston-ring, piston, piston-pin, small-end-bearing, "
        "exhaust-gasket, spark-plug-cap and 18 more",
    ]
    made_of = read_club(club).models["elm-60"].value
    known = read_club(club).models["alder-100r"].value
    assert {*made_of.parts, *made_of.fasteners} <= {*known.parts, *known.fasteners}


def test_a_check_that_a_type_has_no_limit_for_keeps_no_job_from_it(club: Path) -> None:
    path = club / "models/alder-100r.yaml"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    path.write_text("".join(line for line in lines if not line.startswith(("  squish:", "  ring-gap:"))), "utf-8")
    folder = read_club(club)
    model = folder.models["alder-100r"].value
    assert folder.fits("top-end", model)
    assert [one for one in [*folder.problems, *proof_all(folder)] if one.level == "error"] == []
    told = blank_job(folder, "alder-100r", folder.procedures["top-end"], DAY).instructions
    texts = [step.text for stage in told.stages for step in stage.steps]
    assert not [text for text in texts if "solder" in str(text) or "end gap" in str(text)]


def test_a_type_half_written_stops_nothing_of_another(club: Path) -> None:
    say(club, "new", "model", "elm-60", "--equipment", "spark-ignition dry-clutch", "--yes")
    say(club, "new", "engine", "2", "--model", "elm-60", "--keeper", "Jo", "--received", "2027-02-20", "--yes")
    printed = say(club, "print", "1", "--job", "PLU", "--on", "2027-03-01")
    assert (printed.exit_code, printed.stderr) == (0, "")
    refused = say(club, "print", "2", "--job", "PLU", "--on", "2027-03-01")
    assert (refused.exit_code, refused.stderr.splitlines()[-1]) == (
        2, "Error: spark-plug-renewal is not for Elm 60: models/elm-60.yaml lacks 3 names: "
        "spark-plug-cap, plug-reach, plug-gap",
    )  # fmt: skip
    path = club / "models/elm-60.yaml"
    path.write_text(path.read_text("utf-8").replace("single_use: true", "single_use: perhaps"), "utf-8")
    printed = say(club, "print", "1", "--job", "PLU", "--on", "2027-03-01")
    assert (printed.exit_code, printed.stderr) == (0, "")


def test_a_job_half_written_stops_no_other_job(club: Path) -> None:
    path = club / "procedures/exhaust-service.yaml"
    path.write_text(path.read_text("utf-8").replace("do: ", "doo: ", 1), "utf-8")
    assert say(club, "print", "1", "--job", "PLU", "--on", "2027-03-01").exit_code == 0
    assert say(club, "ran", "1", "20", "--on", "2026-11-20", "--yes").exit_code == 0
    about = say(club, "proof", "PLU")
    assert (about.exit_code, about.stdout) == (0, "1 job proofed, nothing to mend\n")
    refused = say(club, "print", "1", "--job", "exhaust-service", "--on", "2027-03-01")
    assert refused.exit_code == 1
    assert "procedures/exhaust-service.yaml" in refused.stderr


def test_a_proof_of_one_job_speaks_of_that_job(club: Path) -> None:
    say(club, "new", "model", "elm-60", "--equipment", "spark-ignition dry-clutch", "--yes")
    found = say(club, "proof", "PLU")
    said = "a job that its equipment asks for names what it has not, and is left out for it"
    assert (found.exit_code, found.stderr) == (0, f"""\
models/elm-60.yaml:15:1 jobs-do-not-fit (note): {said}
  15 | equipment: [spark-ignition, dry-clutch]
     | ^
       PLU lacks 3 names: spark-plug-cap, plug-reach, plug-gap
       to mend: write the names in this file, or take away the word of equipment that asks for a job not wanted

0 faults, 1 note
""")  # fmt: skip


def test_a_slip_in_the_club_s_own_file_is_told_once(club: Path) -> None:
    path = club / "club.yaml"
    path.write_text(path.read_text("utf-8").replace("name: Socket 10 mm, drives", "name: Socket 10 mm drives"), "utf-8")
    found = say(club, "proof")
    assert (found.exit_code, found.stderr.splitlines()[-1]) == (1, "1 fault, 0 notes")


def test_what_was_never_done_is_one_line_for_an_engine(club: Path) -> None:
    found = say(club, "due", "1", "--on", "2026-11-20")
    assert (found.exit_code, found.stderr) == (0, "")
    head, _, rest = found.stdout.partition("\nDue\n")
    assert head.splitlines() == [
        "On 2026-11-20: 16 due, on 1 engine.",
        "docgen print --due prints what is overdue and due; --why says every reason, and when each was last done.",
    ]
    assert rest.splitlines()[:2] == [
        "  1      INC  Incoming - know it, wash it, look it over     came in on 2026-10-01",
        "  1      12 jobs: no record that it was ever done: BTW BOT CAR POP PRT MOU EXH FUE IGN PLU STA TOP",
    ]
    assert all(len(line) <= 118 for line in found.stdout.splitlines())


def test_a_type_that_lacks_names_is_one_line_among_what_is_due(club: Path) -> None:
    say(club, "new", "model", "elm-60", "--equipment", "spark-ignition", "--yes")
    assert say(club, "due", "--on", "2026-11-20").stderr == (
        "models/elm-60.yaml: 4 jobs that its equipment asks for name what it has not, and are left out for it; "
        "docgen proof says which.\n"
    )
