"""A parcel taken in: what it is to a club, what becomes of the club's files, and when nothing does."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.store import append, write_once
from docgen.share.container import from_bytes, to_bytes
from docgen.share.put import PENDING
from tests.smallclub import texts, write

DAY = "2030-06-10"
JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
Edit = tuple[str, str]


def say(root: Path, *words: str, typed: str = "") -> Result:
    return CliRunner().invoke(
        docgen, ["--club", str(root), *words], prog_name="docgen", input=typed, catch_exceptions=False
    )


def edit(root: Path, path: str, *edits: Edit) -> None:
    text = (root / path).read_text("utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (root / path).write_text(text, "utf-8")


def packed(root: Path, *words: str) -> str:
    """A parcel of the job, made in that club."""
    out = root.parent / f"{root.name}.parcel"
    done = say(root, "pack", "ROT", *words, "-o", str(out))
    assert done.exit_code == 0, done.output
    return str(out)


def receive(root: Path, parcel: str, *words: str, typed: str = "") -> tuple[int, str]:
    done = say(root, "receive", parcel, "--on", DAY, *words, typed=typed)
    return done.exit_code, done.output


def snapshot(root: Path) -> dict[str, str]:
    found = {p.relative_to(root).as_posix(): p for p in sorted(root.rglob("*")) if p.is_file() and "out" not in p.parts}
    assert found
    return {path: hashlib.sha256(place.read_bytes()).hexdigest() for path, place in found.items()}


@pytest.fixture
def other(tmp_path: Path) -> Path:
    """The club that sends."""
    return write(tmp_path / "other", {"club.yaml": texts()["club.yaml"].replace("Test Bench", "Other")})


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The club that receives: it has the engine type and engines, and no job."""
    return write(tmp_path / "home", {JOB: None})


@pytest.fixture
def met(other: Path, home: Path) -> Path:
    """The club that receives, once it has taken the job in."""
    assert receive(home, packed(other), "--yes")[0] == 0
    return home


def newer(other: Path, *edits: Edit, path: str = JOB) -> str:
    """A parcel with the next revision."""
    if path != JOB:
        edit(other, path, *edits)
    else:
        edit(other, JOB, ("revision: 3", "revision: 4"), *edits)
    return packed(other)


WAIT, LONGER, SHORTER = (("wait: 10 min", f"wait: {minutes} min") for minutes in (12, 15, 8))
FROM = "A parcel from Other Club, by its own account; nothing proves who packed it.\n\n"


def test_a_new_job_in_words(other: Path, home: Path) -> None:
    code, said = receive(home, packed(other), typed="y\n")
    assert code == 0
    assert said == FROM + (
        "NEW: you have none of that name\n"
        '  job rotor-service, "Rotor - clean and regrease", revision 3 of 2030-01-15\n'
        "    by A. Tester, licence: CC-BY-4.0; 17 steps\n"
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
    code, said = receive(met, parcel, "--mine", "rotor-service", typed="y\n")
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
    code, said = receive(met, parcel, "--theirs", "rotor-service", typed="y\n")
    assert code == 0
    assert said.startswith(FROM + (
        "SETTLED: theirs takes the place of yours\n"
        '  job rotor-service, "Rotor - clean and regrease", revision 3 -> 4\n'
        "    What they changed against yours:\n"
        '    ! step changed: "Let rotor and nut dry."  (in Clean and check, behind "Wipe the thread of the rotor nut'
        ' with the fluid.")\n'
        "        ! wait: 15 min  ->  8 min\n"
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
        "    by A. Tester, licence: CC-BY-4.0; 17 steps\n"
        "    fits of your engine types: willow-80\n"
        "    every 5 h or 6 months, whichever comes first\n"
        "    What they changed against yours:\n"
        "      author: Ourselves  ->  A. Tester\n"
    ))  # fmt: skip
    assert (home / JOB).read_bytes() == own
    assert receive(home, packed(other), "--yes", "--mine", "rotor-service")[0] == 0
    known = read_club(home).origins.files[JOB]
    assert [one.from_ for one in known] == [None, None], "nothing of ours came from them"


def test_what_was_taken_away_stays_away(other: Path, met: Path) -> None:
    (met / JOB).unlink()
    code, said = receive(met, newer(other, WAIT), "--yes")
    assert code == 1
    assert said.startswith(FROM + (
        "TAKEN AWAY HERE: you had it once, and do not get it again\n"
        '  job rotor-service, "Rotor - clean and regrease", revision 4 of 2030-01-15\n'
        "    --theirs rotor-service  takes it again;  --mine rotor-service  says that it stays away.\n"
    ))  # fmt: skip
    assert not (met / JOB).exists()
    assert receive(met, packed(other), "--yes", "--mine", "rotor-service")[0] == 0
    assert receive(met, packed(other), "--yes")[0] == 0
    assert not (met / JOB).exists()
    assert receive(met, packed(other), "--yes", "--theirs", "rotor-service")[0] == 0
    assert "wait: 12 min" in (met / JOB).read_text()


# --- proofing --------------------------------------------------------------------------------------------------------


def test_what_proofing_faults_on_the_clubs_own_type_is_refused(other: Path, met: Path) -> None:
    edit(other, JOB, ("      - do: Slide the rotor on.\n        fits: [rotor]\n        takes: 1 min\n", ""))
    before = snapshot(met)
    code, said = receive(met, packed(other), "--yes")
    assert code == 1
    assert said.partition("look at each before you agree.\n\n")[2] == (
        f"{JOB}:56:20 nothing-to-hold: rotor-nut: tightened, but rotor is off\n"
        "  56 |         tightens: [rotor-nut]\n"
        "     |                    ^\n"
        "       rotor went off at line 32\n"
        "       hint: fit rotor first\n\n"
        "1 error, 0 notes\n"
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


# --- registers -------------------------------------------------------------------------------------------------------


def without_stop(text: str) -> str:
    return text.replace("  rotor-stop: {name: Rotor stop}\n", "").replace("    holding_tool: rotor-stop\n", "")


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A club with neither the job nor the engine type, without the tool and the paste that they name."""
    shelf = without_stop(texts()["club.yaml"]).replace("  paste: {name: Bearing paste, kind: grease}\n", "")
    return write(tmp_path / "bare", {
        JOB: None, MODEL: None, "engines/7A/engine.yaml": None, "engines/8B/engine.yaml": None, "club.yaml": shelf,
    })  # fmt: skip


def test_what_the_jobs_name_is_added_where_the_club_has_it_not(other: Path, bare: Path) -> None:
    edit(bare, "club.yaml", ("materials:", "# Our shelf\nmaterials:  # all of it"))
    before = (bare / "club.yaml").read_text()
    code, said = receive(bare, packed(other), "--yes")
    assert code == 0, said
    assert said.splitlines()[-1] == "Added to club.yaml: rotor-stop, paste"
    assert (bare / "club.yaml").read_text() == before.replace(
        "tools:\n", "tools:\n  # from Other Club\n  rotor-stop: {name: Rotor stop}\n"
    ).replace("# all of it\n", "# all of it\n  # from Other Club\n  paste: {name: Bearing paste, kind: grease}\n")


def test_a_register_that_is_not_there_is_made(other: Path, bare: Path) -> None:
    text = (bare / "club.yaml").read_text()
    head = text.partition("materials:\n")[0]
    (bare / "club.yaml").write_text(head)
    assert receive(bare, packed(other), "--yes")[0] == 0
    assert (bare / "club.yaml").read_text().endswith("""\
materials:
  # from Other Club
  fluid: {name: Cleaning fluid, kind: solvent, hazards: [solvent], waste: Put wet rags in the metal bin.}
  lock: {name: Threadlocker, kind: threadlocker, cures: {handling: 20 min, full: 24 h}}
  paste: {name: Bearing paste, kind: grease}
""")


def test_registers_laid_out_otherwise_are_left_to_the_club(other: Path, bare: Path) -> None:
    text = (bare / "club.yaml").read_text()
    head, _, rest = text.partition("materials:\n")
    inside = ", ".join(line.strip() for line in rest.splitlines())
    (bare / "club.yaml").write_text(f"{head}materials: {{{inside}}}\n")
    before = snapshot(bare)
    parcel = packed(other)
    code, said = receive(bare, parcel, "--yes")
    assert code == 1
    assert said == (
        "registers-by-hand: club.yaml is laid out in a way that nothing could be added to it\n"
        "  hint: write this into it yourself, then try again:\n"
        "tools:\n  rotor-stop: {name: Rotor stop}\n"
        "materials:\n  paste: {name: Bearing paste, kind: grease}\n\n"
        "Nothing was written.\n"
    )
    assert snapshot(bare) == before


def test_where_both_have_one_and_mean_another_thing_ours_stays_and_it_is_said(other: Path, home: Path) -> None:
    edit(home, "club.yaml", ("full: 24 h", "full: 12 h"))
    own = (home / "club.yaml").read_bytes()
    edit(other, MODEL, ("10 h}", "12 h}"))
    code, said = receive(home, packed(other), "--yes", "--theirs", "willow-80")
    assert code == 0
    assert (
        "Of these, both clubs have one and mean another thing; yours stays, and the jobs will use it:\n"
        "  ! lock: cures, yours handling 20 min, full 12 h; theirs handling 20 min, full 24 h\n"
    ) in said
    assert (home / "club.yaml").read_bytes() == own


# --- records ---------------------------------------------------------------------------------------------------------


def test_an_engine_comes_with_its_record(other: Path, home: Path) -> None:
    (other / "engines/9C").mkdir()
    (other / "engines/9C/engine.yaml").write_text(texts()["engines/7A/engine.yaml"].replace("7A", "9C"))
    append(other / "engines/9C/log", {"event": "run", "date": "2030-03-01", "hours": "1 h"}, ())
    code, said = receive(home, packed(other, "--engine", "9C"), "--yes")
    assert (code, said.splitlines()[-1]) == (0, "Records taken in: 9C")
    assert "The record of engine 9C: 2 files that are not here yet\n" in said
    assert len(read_club(home).engines["9C"].log.entries) == 1
    append(other / "engines/9C/log", {"event": "run", "date": "2030-03-08", "hours": "2 h"},
           read_club(other).engines["9C"].log.heads)  # fmt: skip
    code, said = receive(home, packed(other, "--engine", "9C"), "--yes")
    assert code == 0
    assert "The record of engine 9C: 1 files that are not here yet\n" in said
    assert len(read_club(home).engines["9C"].log.entries) == 2
    assert say(home, "verify", "9C").exit_code == 0


def test_another_engine_of_the_same_number_is_refused(other: Path, home: Path) -> None:
    edit(home, "engines/7A/engine.yaml", ("W80-0007", "W80-9999"))
    before, parcel = snapshot(home), packed(other, "--engine", "7A")
    assert receive(home, parcel, "--yes") == (1, (
        "another-engine: the parcel brings an engine 7A, and yours of that number is another one\n"
        "  hint: ask the sender for a parcel without it\n"
        "Nothing was written.\n"
    ))  # fmt: skip
    assert snapshot(home) == before


def test_a_record_with_a_broken_chain_is_refused(other: Path, home: Path) -> None:
    (other / "engines/9C").mkdir()
    (other / "engines/9C/engine.yaml").write_text(texts()["engines/7A/engine.yaml"].replace("7A", "9C"))
    event = {"event": "run", "date": "2030-03-01", "hours": "1 h"}
    append(other / "engines/9C/log", event, ())
    files = from_bytes(Path(packed(other, "--engine", "9C")).read_bytes())
    (log,) = (path for path in files if "/log/" in path)
    changed = files[log].replace(b"1 h", b"9 h")
    manifest = files["manifest.yaml"].decode().replace(
        hashlib.sha256(files[log]).hexdigest(), hashlib.sha256(changed).hexdigest()
    )
    lying = other.parent / "lying.parcel"
    lying.write_bytes(to_bytes({**files, log: changed, "manifest.yaml": manifest.encode()}))
    before = snapshot(home)
    code, said = receive(home, str(lying), "--yes")
    assert code == 1
    assert f"{log}" in said
    assert said.endswith("Nothing was written.\n")
    assert snapshot(home) == before


# --- what goes wrong -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--mine", "rotor"], 'Error: there is no "rotor" in this parcel; in it: rotor-service, willow-80'),
        (["--mine", "willow-80", "--theirs", "willow-80"], 'Error: "willow-80" cannot be both --mine and --theirs'),
    ],
)
def test_names_that_are_not_understood(other: Path, home: Path, words: list[str], said: str) -> None:
    code, output = receive(home, packed(other), *words)
    assert (code, output.splitlines()[-1]) == (2, said)


def test_a_file_that_cannot_be_opened(home: Path, tmp_path: Path) -> None:
    assert receive(home, str(tmp_path / "none.parcel")) == (1, (
        f"unreadable-file: {tmp_path}/none.parcel cannot be opened: No such file or directory\n"
        "  hint: give the parcel's file\nNothing was written.\n"
    ))  # fmt: skip
    code, said = receive(home, str(tmp_path))
    assert (code, said.splitlines()[0]) == (1, f"unreadable-file: {tmp_path} cannot be opened: Is a directory")


def test_ones_own_faulty_file_is_no_measure(other: Path, met: Path) -> None:
    edit(met, JOB, ("code: ROT", "code: rot"))
    before = snapshot(met)
    assert receive(met, newer(other, WAIT), "--yes") == (1, (
        f"faulty-file: your own {JOB} has errors, so nothing can be held against it\n"
        "  hint: mend it first: docgen proof says what is wrong\nNothing was written.\n"
    ))  # fmt: skip
    assert snapshot(met) == before


def test_origins_that_cannot_be_read_are_not_written_over(other: Path, met: Path) -> None:
    (met / "shared/origins.yaml").write_text("files: {x: 1}\n")
    before, parcel = snapshot(met), newer(other, WAIT)
    code, said = receive(met, parcel, "--yes")
    assert (code, said.splitlines()[0]) == (1, "faulty-file: shared/origins.yaml has errors: nothing is done with it")
    assert say(met, "pack", "ROT", "-o", str(met / "x.parcel")).exit_code == 1
    assert snapshot(met) == before


def test_what_somebody_saves_in_the_meantime_is_not_written_over(
    other: Path, met: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    parcel = newer(other, WAIT)

    def answers(question: str) -> bool:
        edit(met, JOB, ("code: ROT", "code: ROT  # saved just now"))
        return True

    monkeypatch.setattr("docgen.cli.receive.asked", answers)
    code, said = receive(met, parcel)
    assert (code, said.splitlines()[-3:]) == (1, [
        f"changed-meanwhile: {JOB} has been changed since it was looked at: nothing was written",
        "  hint: give the same command again",
        "Nothing was written.",
    ])  # fmt: skip
    assert "saved just now" in (met / JOB).read_text()


def test_a_shared_folder_that_is_a_link_is_not_written_through(other: Path, home: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (home / "shared").symlink_to(tmp_path / "elsewhere")
    code, said = receive(home, packed(other), "--yes")
    assert code == 1
    assert "link" in said
    assert list((tmp_path / "elsewhere").iterdir()) == []
    assert not (home / JOB).exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written(other: Path, home: Path) -> None:
    home.chmod(0o500)
    code, said = receive(home, packed(other), "--yes")
    home.chmod(0o700)
    assert code == 1
    assert "read-only" in said


# --- cut off ---------------------------------------------------------------------------------------------------------


def test_whoever_comes_next_puts_the_rest_in_its_place(met: Path) -> None:
    text = (met / JOB).read_bytes().replace(b"10 min", b"11 min")
    write_once(met / PENDING, to_bytes({JOB: text}))
    result = say(met, "due", "--on", DAY)
    assert result.stderr == "Taking in a parcel had been cut off; it is whole now.\n"
    assert (met / JOB).read_bytes() == text
    assert not (met / PENDING).exists()
    assert say(met, "due", "--on", DAY).stderr == ""


def test_what_was_saved_after_the_cut_is_kept(met: Path) -> None:
    theirs = (met / JOB).read_bytes().replace(b"10 min", b"11 min")
    write_once(met / PENDING, to_bytes({JOB: theirs}))
    edit(met, JOB, ("code: ROT", "code: ROT  # saved after the cut"))
    saved = (met / JOB).read_bytes()
    assert say(met, "due", "--on", DAY).exit_code == 0
    assert saved in [path.read_bytes() for path in (met / "shared/replaced").iterdir()]


DAMAGE: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "cut short": (lambda data: data[:-9], "the parcel is damaged or cut short"),
    "another file": (lambda _: to_bytes({"templates/checklist.html.j2": b"x"}),
                     "it holds templates/checklist.html.j2, which no parcel brings"),
    "out of the club": (lambda _: to_bytes({"../x.yaml": b"x"}),
                        'the parcel holds a file called "../x.yaml", which leads out of the club\'s folder'),
}  # fmt: skip


@pytest.mark.parametrize(("damage", "why"), DAMAGE.values(), ids=DAMAGE)
def test_a_rest_that_is_not_as_it_was_written_is_not_taken(
    met: Path, damage: Callable[[bytes], bytes], why: str
) -> None:
    write_once(met / PENDING, damage(to_bytes({JOB: b"x: 1\n"})))
    before = snapshot(met)
    result = say(met, "due", "--on", DAY)
    assert (result.exit_code, result.stderr) == (1, (
        f"damaged-parcel: shared/to-put is not as docgen receive wrote it ({why})\n"
        "  hint: delete shared/to-put, then take the parcel in again\n"
    ))  # fmt: skip
    assert snapshot(met) == before
    assert not (met.parent / "x.yaml").exists()
