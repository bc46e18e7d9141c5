"""A parcel taken in: what it is to a club, and what becomes of the club's files."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from tests.share.receiving import FROM, JOB, LONGER, SHORTER, WAIT, edit, newer, packed, receive, say, snapshot
from tests.smallclub import texts, write


def test_a_new_job_in_words(other: Path, home: Path) -> None:
    code, said = receive(home, packed(other), typed="y\n")
    assert code == 0
    assert said == FROM + (
        "NEW: you have none of that name\n"
        '  job rotor-service, "Rotor - clean and regrease", revision 3 of 2030-01-15\n'
        "    by A. Tester, licence: CC-BY-4.0; 18 steps\n"
        "    fits of your engine types: willow-80\n"
        "    every 5 h or 6 months, whichever comes first\n"
        "\n"
        "As you have it already: willow-80\n"
        "\n"
        "Take this in? [y/N]: y\n"
        "Taken in: rotor-service\n"
    )
    assert read_club(home).procedures["rotor-service"].value == read_club(other).procedures["rotor-service"].value


@pytest.mark.parametrize("answer", ["n\n", "", "\n"])
def test_nothing_is_written_before_somebody_agrees(other: Path, home: Path, answer: str) -> None:
    parcel, before = packed(other), snapshot(home)
    code, said = receive(home, parcel, typed=answer)
    assert code == 1
    assert said.endswith("Nothing was written.\n")
    assert snapshot(home) == before


def test_the_same_again_asks_nothing_and_writes_nothing(other: Path, met: Path) -> None:
    before = snapshot(met)
    assert receive(met, packed(other)) == (0, FROM + (
        "As you have it already: willow-80, rotor-service\n\nNothing of it is new to you. Nothing was written.\n"
    ))  # fmt: skip
    assert snapshot(met) == before


def test_what_is_the_same_by_another_way_is_only_noted(other: Path, tmp_path: Path) -> None:
    twin = write(tmp_path / "twin")
    code, said = receive(twin, packed(other))
    assert (code, said) == (0, FROM + (
        "As you have it already: willow-80, rotor-service\n\nYou have all of it. What the other club has was noted.\n"
    ))  # fmt: skip
    edit(twin, JOB, LONGER)
    assert "CHANGED BY BOTH, in different places" in receive(twin, newer(other, ("5 h, months", "6 h, months")))[1]


def test_an_older_one_changes_nothing(other: Path, met: Path) -> None:
    old = (other.parent / "other.parcel").read_bytes()
    assert receive(met, newer(other, WAIT), "--yes")[0] == 0
    before = snapshot(met)
    (other.parent / "old.parcel").write_bytes(old)
    code, said = receive(met, str(other.parent / "old.parcel"), "--yes")
    assert code == 0
    assert "You had this before, and have gone on since: rotor-service\n" in said
    assert snapshot(met) == before


def test_comments_of_a_file_that_is_replaced_are_kept(other: Path, met: Path) -> None:
    edit(met, JOB, ("code: ROT", "code: ROT  # our own letters"))
    text = (met / JOB).read_bytes()
    code, said = receive(met, newer(other, WAIT), "--yes")
    assert (code, said.splitlines()[-1]) == (0, "Taken in: rotor-service")
    assert b"our own letters" not in (met / JOB).read_bytes()
    assert [path.read_bytes() for path in (met / "shared/replaced").glob("rotor-service-*.yaml")] == [text]


def test_what_the_club_changed_is_in_what_it_gets(other: Path, met: Path) -> None:
    edit(met, JOB, LONGER, ("revision: 3", "revision: 4"))
    code, _ = receive(met, newer(other, ("5 h, months", "6 h, months")), "--yes")
    assert code == 0
    text = (met / JOB).read_text()
    assert ("wait: 15 min" in text, "hours: 6 h" in text, "revision: 5" in text) == (True, True, True)


def test_a_conflict_leaves_the_clubs_own_and_lays_theirs_beside(other: Path, met: Path) -> None:
    edit(met, JOB, LONGER)
    own = (met / JOB).read_bytes()
    parcel = newer(other, SHORTER)
    code, said = receive(met, parcel, "--yes")
    assert code == 1
    (beside,) = (met / "shared/beside").iterdir()
    assert said.splitlines()[-2:] == [
        f"Left side by side: {JOB} (yours) and shared/beside/{beside.name} (theirs)", "1 file to settle, see above."
    ]  # fmt: skip
    assert (met / JOB).read_bytes() == own
    assert "wait: 8 min" in beside.read_text()
    before = snapshot(met)
    assert receive(met, parcel, "--yes")[0] == 1
    assert snapshot(met) == before


def test_a_conflict_settled_for_ours(other: Path, met: Path) -> None:
    edit(met, JOB, LONGER)
    own, parcel = (met / JOB).read_bytes(), newer(other, SHORTER)
    receive(met, parcel, "--yes")
    code, said = receive(met, parcel, "--keep", "rotor-service", typed="y\n")
    assert (code, said.splitlines()[-2:]) == (0, [
        "Note that this is settled? [y/N]: y", "Noted as settled: rotor-service"
    ])  # fmt: skip
    assert (met / JOB).read_bytes() == own
    assert list((met / "shared/beside").iterdir()) == []
    assert receive(met, parcel)[0] == 0


def test_a_conflict_settled_for_theirs(other: Path, met: Path) -> None:
    edit(met, JOB, LONGER)
    own, parcel = (met / JOB).read_bytes(), newer(other, SHORTER)
    receive(met, parcel, "--yes")
    code, said = receive(met, parcel, "--take", "rotor-service", typed="y\n")
    assert code == 0
    assert said.startswith(FROM + (
        "SETTLED: theirs takes the place of yours\n"
        '  job rotor-service, "Rotor - clean and regrease", revision 3 -> 4\n'
        "    What they changed against yours:\n"
        '    NUMBER  step "Let rotor and nut dry.": wait\n'
        "        was: 15 min\n"
        "        now: 8 min\n"
    ))  # fmt: skip
    assert "wait: 8 min" in (met / JOB).read_text()
    assert list((met / "shared/beside").iterdir()) == []
    assert own in [path.read_bytes() for path in (met / "shared/replaced").iterdir()]


def test_another_job_of_the_same_name_is_never_written_over(other: Path, home: Path) -> None:
    (home / "procedures").mkdir()
    (home / JOB).write_text(texts()[JOB].replace("wait: 10 min", "wait: 1 h").replace("A. Tester", "Ourselves"))
    own = (home / JOB).read_bytes()
    code, said = receive(home, packed(other), "--yes")
    assert code == 1
    assert said.startswith(FROM + (
        "ANOTHER ONE OF THAT NAME: yours did not come from theirs, and stays\n"
        '  job rotor-service, "Rotor - clean and regrease", yours revision 3, theirs 3\n'
        "    by A. Tester, licence: CC-BY-4.0; 18 steps\n"
        "    fits of your engine types: willow-80\n"
        "    every 5 h or 6 months, whichever comes first\n"
        "    What they changed against yours:\n"
        "    words  author\n"
        "        was: Ourselves\n"
        "        now: A. Tester\n"
    ))  # fmt: skip
    assert (home / JOB).read_bytes() == own
    assert receive(home, packed(other), "--yes", "--keep", "rotor-service")[0] == 0
    known = read_club(home).origins.files[JOB]
    assert [one.from_ for one in known] == [None, None], "nothing of ours came from them"


def test_what_was_taken_away_stays_away(other: Path, met: Path) -> None:
    (met / JOB).unlink()
    code, said = receive(met, newer(other, WAIT), "--yes")
    assert code == 1
    assert said.startswith(FROM + (
        "TAKEN AWAY HERE: you had it once, and do not get it again\n"
        '  job rotor-service, "Rotor - clean and regrease", revision 4 of 2030-01-15\n'
        "    --take rotor-service  takes it again;  --keep rotor-service  says that it stays away.\n"
    ))  # fmt: skip
    assert not (met / JOB).exists()
    assert receive(met, packed(other), "--yes", "--keep", "rotor-service")[0] == 0
    assert receive(met, packed(other), "--yes")[0] == 0
    assert not (met / JOB).exists()
    assert receive(met, packed(other), "--yes", "--take", "rotor-service")[0] == 0
    assert "wait: 12 min" in (met / JOB).read_text()


def test_what_proofing_faults_on_the_clubs_own_type_is_refused(other: Path, met: Path) -> None:
    edit(other, JOB, ("      - do: Slide the rotor on.\n        fits: [rotor]\n        takes: 1 min\n", ""))
    before = snapshot(met)
    code, said = receive(met, packed(other), "--yes")
    assert code == 1
    assert said.partition("before you agree.\n\n")[2] == (
        f"{JOB}:56:20 nothing-to-hold: rotor-nut: tightened, but rotor is off\n"
        "  56 |         tightens: [rotor-nut]\n"
        "     |                    ^\n"
        "       rotor went off at line 32\n"
        "       to mend: fit rotor first\n\n"
        "1 fault, 0 notes\n"
        "Refused: with the parcel taken in, proofing finds what stands above (its lines as they would be).\n"
        "Nothing was written.\n"
    )
    assert snapshot(met) == before


def test_a_club_that_was_faulty_before_is_held_to_be_no_worse(other: Path, met: Path) -> None:
    faulty = texts()[JOB].replace("rotor-service", "other-job").replace("ROT", "OTH")
    (met / "procedures/other-job.yaml").write_text(faulty.replace("        fits: [rotor]\n", ""))
    assert say(met, "proof").exit_code == 1
    assert receive(met, newer(other, WAIT), "--yes")[0] == 0


def test_a_code_that_is_taken_is_refused(other: Path, home: Path) -> None:
    own = texts()[JOB].replace("procedure: rotor-service", "procedure: rotation")
    (home / "procedures").mkdir()
    (home / "procedures/rotation.yaml").write_text(own)
    before = snapshot(home)
    parcel = packed(other)
    code, said = receive(home, parcel, "--yes")
    assert code == 1
    assert "code-taken: the code ROT is already that of rotation" in said
    assert snapshot(home) == before
