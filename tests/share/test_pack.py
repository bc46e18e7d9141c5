"""What goes into a parcel, what stays at home, and that the same content is the same file."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.share.container import from_bytes
from docgen.share.parcel import open_parcel
from tests.smallclub import texts, write


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


@pytest.fixture
def club(tmp_path: Path) -> Path:
    return write(tmp_path / "club")


def packed(root: Path, *words: str) -> dict[str, bytes]:
    out = root.parent / "out.parcel"
    result = say(root, "pack", *words, "-o", str(out))
    assert result.exit_code == 0, result.output
    return from_bytes(out.read_bytes())


MANIFEST = """\
parcel: 1
from: Test Bench Club
language: en
files:
  "models/willow-80.yaml":
    digest: {model}
    versions: [{{digest: {model}}}]
  "procedures/rotor-service.yaml":
    digest: {job}
    revision: 3
    author: A. Tester
    licence: CC-BY-4.0
    equipment: [rotor-drive]
    versions: [{{digest: {job}, revision: 3}}]
registers: {registers}
"""

REGISTERS = """\
tools:
  rotor-stop: {name: Rotor stop}
gauges:
  feelers: {name: Feeler gauges, reads: 0.05 mm}
materials:
  fluid: {name: Cleaning fluid, kind: solvent, hazards: [solvent], waste: Put wet rags in the metal bin.}
  lock: {name: Threadlocker, kind: threadlocker, cures: {handling: 20 min, full: 24 h}}
  paste: {name: Bearing paste, kind: sealant}
"""


def test_a_parcel_holds_the_job_what_it_needs_and_what_it_is(club: Path) -> None:
    files = packed(club, "ROT")
    assert list(files) == [
        "manifest.yaml", "models/willow-80.yaml", "procedures/rotor-service.yaml", "registers.yaml"
    ]  # fmt: skip
    assert files["registers.yaml"].decode() == REGISTERS
    told = files["manifest.yaml"].decode()
    digests = {key: told.split(f"{key}\":\n    digest: ")[1][:64] for key in ("willow-80.yaml", "rotor-service.yaml")}
    registers = told.split("registers: ")[1].strip()
    assert told == MANIFEST.format(
        model=digests["willow-80.yaml"], job=digests["rotor-service.yaml"], registers=registers
    )


def test_what_is_said_after_packing(club: Path) -> None:
    result = say(club, "pack", "rotor-service", "-o", str(club / "rot.parcel"))
    assert result.exit_code == 0
    assert result.stdout == (
        "job         rotor-service revision 3\n"
        "engine type willow-80\n"
        f"{club}/rot.parcel: {(club / 'rot.parcel').stat().st_size} bytes\n"
    )


def test_the_same_content_is_the_same_file_whatever_its_layout(club: Path, tmp_path: Path) -> None:
    changed = write(tmp_path / "other")
    for path in ("procedures/rotor-service.yaml", "models/willow-80.yaml", "club.yaml"):
        text = (changed / path).read_text()
        (changed / path).write_text("# A note to ourselves\n" + text.replace("\n", "  # and here\n", 1), newline="\r\n")
    path = changed / "procedures/rotor-service.yaml"
    path.write_bytes(path.read_bytes().replace(b"undoes: [rotor-nut]", b"undoes:\r\n        - rotor-nut"))
    first, again, other = club.parent / "1", club.parent / "2", club.parent / "3"
    for root, out in ((club, first), (club, again), (changed, other)):
        assert say(root, "pack", "ROT", "-o", str(out)).exit_code == 0
    assert first.read_bytes() == again.read_bytes() == other.read_bytes()


SECRET = {
    "club.yaml": texts()["club.yaml"]
    .replace("club: Test", "currency: EUR\nclub: Test")
    .replace("step: 0.5 N.m}", "step: 0.5 N.m, calibrated_until: 2031-01-01}")
    .replace("{name: Rotor stop}", "{name: Rotor stop, calibrated_until: 2031-02-02}")
    .replace("kind: sealant}", "kind: sealant, container: 77 g, price: 13.37}")
}


def test_what_is_the_clubs_own_affair_stays_at_home(tmp_path: Path) -> None:
    root = write(tmp_path / "club", {**SECRET, "stock.yaml": "secret\n"})
    whole = b"\n".join(packed(root, "ROT").values()).decode()
    for secret in ("13.37", "77 g", "2031", "EUR", "0.01 mm}", "wrench-25", "socket", "2030-05-05", "7A", "secret"):
        assert secret not in whole, secret
    assert "paste: {name: Bearing paste, kind: sealant}" in whole


def test_an_engines_record_goes_only_when_it_is_asked_for(club: Path) -> None:
    assert not any(path.startswith("engines/") for path in packed(club, "ROT"))
    files = packed(club, "ROT", "--engine", "7A")
    records = {path: data for path, data in files.items() if path.startswith("engines/")}
    assert records == {"engines/7A/engine.yaml": (club / "engines/7A/engine.yaml").read_bytes()}


def test_packing_is_remembered_with_the_text_that_went_out(club: Path) -> None:
    say(club, "pack", "ROT", "-o", str(club / "1.parcel"))
    first = read_club(club).origins.files["procedures/rotor-service.yaml"]
    text = (club / "procedures/rotor-service.yaml").read_text()
    (club / "procedures/rotor-service.yaml").write_text(text.replace("revision: 3", "revision: 4"))
    say(club, "pack", "ROT", "-o", str(club / "2.parcel"))
    then = read_club(club).origins.files["procedures/rotor-service.yaml"]
    assert [one.revision for one in first] == [3]
    assert [one.revision for one in then] == [3, 4]
    assert then[0] == first[0]
    parcel = open_parcel("2", (club / "2.parcel").read_bytes())
    assert [(one.revision, one.from_) for one in parcel.versions("procedures/rotor-service.yaml")] == [
        (3, "Test Bench Club"), (4, "Test Bench Club")
    ]  # fmt: skip
    kept = sorted(path.name for path in (club / "shared/versions").iterdir())
    assert kept == sorted([
        *(f"rotor-service-{one.digest[:16]}.yaml" for one in then),
        f"willow-80-{parcel.told['models/willow-80.yaml'].digest[:16]}.yaml",
    ])  # fmt: skip


USED = """\
sequence: plate-off
title: The plate comes off
revision: 1
dated: 2030-01-01
steps:
  - do: Undo the screws of the side plate.
    undoes: [plate-screws]
"""


def test_what_a_job_uses_and_calls_for_goes_with_it(tmp_path: Path) -> None:
    job = texts()["procedures/rotor-service.yaml"]
    first = "- do: Undo the screws of the side plate.\n        undoes: [plate-screws]\n        takes: 3 min\n"
    assert first in job
    job = job.replace(first, "- use: plate-off\n")
    job = job.replace("fail: {renews: [spacer]}", "fail: {calls: look-round}")
    other = texts()["procedures/rotor-service.yaml"].replace("rotor-service", "look-round").replace("ROT", "LOK")
    root = write(tmp_path / "club", {
        "procedures/rotor-service.yaml": job, "procedures/look-round.yaml": other, "procedures/plate-off.yaml": USED,
        "procedures/never-named.yaml": other.replace("look-round", "never-named").replace("LOK", "NEV"),
    })  # fmt: skip
    result = say(root, "pack", "ROT", "-o", str(tmp_path / "it.parcel"))
    assert result.stdout.splitlines()[:-1] == [
        "job         look-round revision 3  (needed by rotor-service)",
        "job         rotor-service revision 3",
        "sequence    plate-off revision 1  (needed by rotor-service)",
        "engine type willow-80",
    ]
    assert [path for path in from_bytes((tmp_path / "it.parcel").read_bytes()) if path.startswith("procedures")] == [
        "procedures/look-round.yaml", "procedures/plate-off.yaml", "procedures/rotor-service.yaml"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["ROX"], 2, 'Error: there is no job "ROX"; known: rotor-service'),
        (["ROT", "--engine", "9C"], 2, 'Error: there is no engine "9C"; known: 7A, 8B'),
        (["ROT", "--model", "elm"], 2, 'Error: there is no engine type "elm"; known: willow-80'),
    ],
)
def test_what_cannot_be_packed_is_said(club: Path, words: list[str], code: int, said: str) -> None:
    result = say(club, "pack", *words, "-o", str(club / "x.parcel"))
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (code, said)
    assert not (club / "x.parcel").exists()
    assert not (club / "shared").exists()


def test_a_file_that_is_no_parcel_is_not_written_over(club: Path) -> None:
    before = (club / "club.yaml").read_bytes()
    result = say(club, "pack", "ROT", "-o", str(club / "club.yaml"))
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == (
        f"Error: {club}/club.yaml is there already, and is no parcel: give another name"
    )
    assert (club / "club.yaml").read_bytes() == before


def test_a_job_with_errors_is_not_packed(club: Path) -> None:
    path = club / "procedures/rotor-service.yaml"
    path.write_text(path.read_text().replace("fits: [rotor]", "fits: [rotr]"))
    result = say(club, "pack", "ROT", "-o", str(club / "x.parcel"))
    assert (result.exit_code, result.stdout) == (1, (
        "faulty-file: procedures/rotor-service.yaml has errors: nothing is done with it\n"
        "  to mend: docgen proof says what is wrong there\n"
        "Nothing was packed.\n"
    ))  # fmt: skip
    assert not (club / "x.parcel").exists()


def test_a_parcel_that_cannot_be_written_is_said(club: Path) -> None:
    place = club / "locked"
    place.write_text("a file where a folder is needed")
    result = say(club, "pack", "ROT", "-o", str(place / "x.parcel"))
    assert result.exit_code == 1
    assert result.stdout == (
        f"not-written: {place}/x.parcel was not written: File exists\n  to mend: try again\nNothing was packed.\n"
    )
