"""new: a club, an engine, an engine type and a procedure begun, by questions and by options; right from the start."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner, Result

from docgen.cli import new
from docgen.cli.frame import docgen
from docgen.club import read as folders
from docgen.club.content import content_digest
from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.club.schema.published import KINDS, editor_line, schema_file, schema_text
from docgen.desk import begin_club
from docgen.proof import proof_all
from tests.club.editor import faults, kind_of
from tests.remembered import begun_from
from tests.shares import share
from tests.smallclub import write

TODAY = date(2030, 6, 10)
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(autouse=True)
def on_the_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(begin_club, "read_club", begun_from)
    for each in (new.engine, new.procedure):
        for option in each.params:
            if option.name in ("received", "dated"):
                monkeypatch.setattr(option, "default", lambda: TODAY)


def say(*words: str | Path, typed: str = "", club: Path | None = None) -> Result:
    where = ["--club", str(club)] if club else []
    said = [*where, *map(str, words)]
    return CliRunner().invoke(docgen, said, prog_name="docgen", input=typed, catch_exceptions=False)


def files(root: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in sorted(root.rglob("*")) if path.is_file()}


def written(root: Path) -> Iterator[tuple[str, str]]:
    """Path and text of each file that a person goes on writing."""
    for path in sorted(root.rglob("*.yaml")):
        name = path.relative_to(root).as_posix()
        if not name.startswith("shared/"):
            yield name, path.read_text("utf-8")


def errors(root: Path) -> list[str]:
    """What reading and proofing have against a club, notes left out."""
    folder = read_club(root)
    return [str(one) for one in [*folder.problems, *proof_all(folder)] if one.level == "error"]


def check_editor(root: Path) -> None:
    """Every file carries the editor's line, and the schema that it names lies there and takes it."""
    found = list(written(root))
    assert found
    for name, text in found:
        line = text.partition("\n")[0]
        kind = kind_of(name, text)
        assert line == editor_line(kind), name
        schema = (root / name).parent / line.partition("$schema=")[2]
        assert schema.resolve() == (root / schema_file(kind)).resolve()
        assert schema.read_text("utf-8") == schema_text(kind)
        assert list(faults(kind, text)) == [], name


TAKEN = ["hazel-60j", "all", "nothing", "pre-start", "CLU", "alder-100r", "larch-125w"]


@pytest.mark.parametrize("take", TAKEN[: share(5, 7)])
def test_a_club_is_right_whatever_it_takes_along(take: str, tmp_path: Path) -> None:
    root = tmp_path / "club"
    result = say("new", "club", root, "--name", "Marsh Lane: Karters", "--paper", "Letter", "--take", take, "--yes")
    assert result.exit_code == 0, result.output
    assert errors(root) == []
    check_editor(root)
    made = read_club(root)
    assert (made.club.value.club, made.club.value.paper) == ("Marsh Lane: Karters", "Letter")
    types = {"all": 3, "nothing": 0, "pre-start": 0, "CLU": 0}
    assert len(made.models) == types.get(take, 1)
    assert ("pre-start" in made.procedures) == (take not in ("nothing", "CLU"))
    assert (root / "glossary.yaml").exists() == (take != "nothing")


def test_what_is_taken_along_is_known_to_be_anothers_and_complete(tmp_path: Path) -> None:
    source, root = write(tmp_path / "source"), tmp_path / "club"
    take = ("--take", "ROT", "--take", "willow-80", "--from", source)
    result = say("new", "club", root, "--name", "Ours", *take, "--yes")
    assert result.exit_code == 0, result.output
    assert result.stdout == f"""\
Ours: {root}
  engine type willow-80, 1 job
Look through {root}/club.yaml: strike out what you have not; write your own tools and race days.
Then, in {root}:  docgen new engine NUMBER
"""
    assert list(files(root)) == [
        ".gitattributes", "club.yaml", "models/willow-80.yaml", "procedures/rotor-service.yaml",
        *(schema_file(kind) for kind in sorted(KINDS)), "shared/origins.yaml",
        *sorted(f"shared/versions/{path.stem}-{digest(source, path.stem)}.yaml" for path in (
            Path("rotor-service"), Path("willow-80"))),
    ]  # fmt: skip
    for path in ("models/willow-80.yaml", "procedures/rotor-service.yaml"):
        assert (root / path).read_text("utf-8").partition("\n")[2] == (source / path).read_text("utf-8")
    made = read_club(root)
    (job,) = made.origins.files["procedures/rotor-service.yaml"]
    assert (job.revision, job.from_) == (3, "Test Bench Club")
    assert set(made.club.value.tools) == {"wrench-25", "wrench-100", "socket-10", "socket-17", "rotor-stop"}
    assert made.club.value.gauges["feelers"].uncertainty is None, "that of the other club's own gauge"


def digest(root: Path, name: str) -> str:
    folder = read_club(root)
    read = folder.procedures.get(name) or folder.models[name]
    return content_digest(read.document)[:16]


def test_a_club_by_questions(tmp_path: Path) -> None:
    root = tmp_path / "club"
    typed = "\nÅsby Karting\nA5\nA4\nalder\nalder-100r pre-start\n"
    result = say("new", "club", root, typed=typed)
    assert result.exit_code == 0, result.output
    assert result.output.splitlines()[:-4] == [
        "What is the club called: ",
        "What is the club called: Åsby Karting",
        "Paper, A4 or Letter [A4]: A5",
        'Error: "A5" is not one of the words known here; known: A4, Letter',
        "Paper, A4 or Letter [A4]: A4",
        "Take along (engine types: alder-100r, hazel-60j, larch-125w; or jobs by name, all, nothing) [all]: alder",
        'Error: there is no engine type and no job "alder" to take along; did you mean "alder-100r"?',
        "Take along (engine types: alder-100r, hazel-60j, larch-125w; or jobs by name, all, nothing) [all]: "
        "alder-100r pre-start",
    ]
    assert read_club(root).problems == []


def test_nothing_is_written_over(tmp_path: Path) -> None:
    root = write(tmp_path / "club")
    before = files(root)
    for words, path in (
        (["club", str(root), "--name", "X", "--yes"], "club.yaml"),
        (["engine", "7A", "--keeper", "X", "--yes"], "engines/7A/engine.yaml"),
        (["model", "willow-80", "--yes"], "models/willow-80.yaml"),
        (["procedure", "rotor-service", "--yes"], "procedures/rotor-service.yaml"),
    ):
        result = say("new", *words, club=root)
        assert (result.exit_code, result.stdout) == (
            1, f"{root}/{path} is there already, and nothing is written over. Nothing was written.\n"
        )  # fmt: skip
    assert files(root) == before


def test_a_file_in_the_way_keeps_a_club_from_being_begun(tmp_path: Path) -> None:
    root = tmp_path / "club"
    (root / "procedures").mkdir(parents=True)
    (root / "procedures/pre-start.yaml").write_text("mine\n")
    result = say("new", "club", root, "--name", "X", "--take", "pre-start", "--yes")
    assert (result.exit_code, result.stdout) == (
        1, f"{root}/procedures/pre-start.yaml is there already, and nothing is written over. Nothing was written.\n"
    )  # fmt: skip
    assert files(root) == {"procedures/pre-start.yaml": b"mine\n"}


def test_a_club_half_written_is_finished_by_the_same_command(tmp_path: Path) -> None:
    whole, root = tmp_path / "whole", tmp_path / "club"
    words = ("--name", "X", "--take", "hazel-60j", "--yes")
    assert say("new", "club", whole, *words).exit_code == 0
    for path, data in list(files(whole).items())[5:40]:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_bytes(data)
    (root / "club.yaml").unlink(missing_ok=True)
    assert say("new", "club", root, *words).exit_code == 0
    assert files(root) == files(whole)


def test_the_first_evening(tmp_path: Path) -> None:
    """A fresh folder, a shipped engine type, an engine: the check before the first start prints."""
    root = tmp_path / "club"
    assert say("new", "club", root, "--name", "Marsh Lane", "--take", "alder-100r", "--yes").exit_code == 0
    result = say("new", "engine", "7", "--keeper", "Jo Ash", "--hours", "3 h", "--yes", club=root)
    assert (result.exit_code, result.stdout) == (0, f"""\
Engine 7, Alder 100R: {root}/engines/7/engine.yaml
Next:  docgen due 7   then   docgen print 7
""")
    check_editor(root)
    result = say("print", "7", "--job", "pre-start", "--on", TODAY.isoformat(), club=root)
    assert result.exit_code == 0, result.output
    text = pypdf.PdfReader(root / "out/7/7-PRS-leaf.pdf").pages[0].extract_text()
    assert "Alder 100R" in text
    assert errors(root) == []


def test_an_engine_type_and_a_procedure_of_ones_own_print(tmp_path: Path) -> None:
    root = tmp_path / "club"
    assert say("new", "club", root, "--name", "Marsh Lane", "--take", "nothing", "--yes").exit_code == 0
    result = say("new", "engine", "7", "--keeper", "Jo Ash", "--yes", club=root)
    assert (result.exit_code, result.stdout) == (
        1, "The club has no engine type yet. First:  docgen new model NAME\n"
    )  # fmt: skip
    result = say("new", "model", "elm-60", club=root, typed="Elm 60\n\n61\n59.6 cm3\nreed-valve Elm\nreed-valve elm\n")
    assert result.exit_code == 0, result.output
    assert result.output.splitlines() == [
        "What it is called [Elm 60]: Elm 60",
        "The maker's manual [Elm 60 manual]: ",
        "Swept volume, as 99.8 cm3 (empty: not known): 61",
        'Error: "61" has no unit; write it after the figure, as in 61 mm',
        "Swept volume, as 99.8 cm3 (empty: not known): 59.6 cm3",
        "What it has, in words that jobs ask for (other types: none yet) [elm-60]: reed-valve Elm",
        'Error: "Elm" is not a name; names are lower-case words joined by hyphens: clutch-nut',
        "What it has, in words that jobs ask for (other types: none yet) [elm-60]: reed-valve elm",
        f"Engine type Elm 60: {root}/models/elm-60.yaml",
        "No job of the club is for it yet: the words of equipment in its file say which are.",
        "Next: write its parts and fasteners, then  docgen proof   and   docgen new engine NUMBER",
    ]
    typed = "\nthrottle\nTHR\nJo Ash\nreed\nreed-valve\nnow and then\n5 h or 6 months\n"
    result = say("new", "procedure", "throttle-cable", club=root, typed=typed)
    assert result.exit_code == 0, result.output
    assert result.output.splitlines() == [
        "What the job is called [Throttle cable]: ",
        "Its code, three letters [THR]: throttle",
        'Error: "THROTTLE" is not a sheet code; write three capital letters, as in CLU',
        "Its code, three letters [THR]: THR",
        "Who writes it [Marsh Lane]: Jo Ash",
        "Equipment that an engine must have for it (elm, reed-valve; empty: every engine): reed",
        'Error: no engine type of the club has "reed"; did you mean "reed-valve"?',
        "Equipment that an engine must have for it (elm, reed-valve; empty: every engine): reed-valve",
        "How often, as 5 h or 6 months (empty: when it is wanted): now and then",
        'Error: "now and then" is not understood; write 5 h, 6 months, or 5 h 6 months',
        "How often, as 5 h or 6 months (empty: when it is wanted): 5 h or 6 months",
        f"Throttle cable, sheet code THR: {root}/procedures/throttle-cable.yaml",
        "Next: write its steps, then  docgen proof throttle-cable   and   docgen print NUMBER --job THR",
    ]
    assert say("new", "engine", "7", "--keeper", "Jo Ash", "--yes", club=root).exit_code == 0
    folder = read_club(root)
    assert folder.problems == proof_all(folder) == []
    check_editor(root)
    job = folder.procedures["throttle-cable"].value
    assert job.every is not None
    assert (str(job.every.hours), job.every.months, job.needs, job.author) == ("5 h", 6, ("reed-valve",), "Jo Ash")
    result = say("print", "7", "--job", "THR", "--on", TODAY.isoformat(), club=root)
    assert result.exit_code == 0, result.output


def test_a_job_before_there_is_an_engine_type(tmp_path: Path) -> None:
    root = tmp_path / "club"
    assert say("new", "club", root, "--name", "Ours", "--take", "pre-start", "--yes").exit_code == 0
    title = 'Über "alles": [x] #1'
    result = say("new", "procedure", "look", "--title", title, "--author", "{a}", "--yes", club=root)
    assert result.exit_code == 0, result.output
    job = read_club(root).procedures["look"].value
    assert (job.title, job.author) == (title, "{a}")
    check_editor(root)
    assert errors(root) == []


def test_codes_do_not_collide(tmp_path: Path) -> None:
    root = write(tmp_path / "club")
    result = say("new", "procedure", "rotor-look", "--code", "rot", "--yes", club=root)
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (
        2, "Error: --code: ROT is already the code of rotor-service"
    )  # fmt: skip
    assert say("new", "procedure", "rotor-look", "--yes", club=root).exit_code == 0
    assert read_club(root).procedures["rotor-look"].value.code == "ROO"


def test_no_procedure_is_begun_beside_one_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root, whole = write(tmp_path / "club"), folders.read_bytes

    def refused(root: Path, path: str) -> bytes | Problem:
        if path == "procedures/rotor-service.yaml":
            return Problem(path, 0, 0, "unreadable-file", "this file cannot be read: Permission denied")
        return whole(root, path)

    monkeypatch.setattr(folders, "read_bytes", refused)
    result = say("new", "procedure", "rotor-look", "--yes", club=root)
    assert result.exit_code == 1
    assert result.output.startswith("procedures/rotor-service.yaml unreadable-file: ")
    assert not (root / "procedures/rotor-look.yaml").exists()


@pytest.mark.parametrize(("words", "said"), [
    (["engine", "7a", "--yes"], '"7a" is not an engine number; write one to six capital letters and digits, as in 017: '
     "the number is part of every sheet's code"),
    (["engine", "9", "--yes"], "--keeper is needed where nothing is asked"),
    (["engine", "9", "--keeper", "X", "--model", "elm", "--yes"],
     '--model: there is no engine type "elm"; known: willow-80'),
    (["engine", "9", "--keeper", "X", "--hours", "3", "--yes"],
     '--hours: "3" has no unit; write it after the figure, as in 3 h or 3 min'),
    (["procedure", "Rotor Look", "--yes"],
     '"Rotor Look" is not a name; names are lower-case words joined by hyphens: clutch-nut'),
    (["procedure", "look", "--needs", "wings", "--yes"],
     '--needs: no engine type of the club has "wings"; known here: rotor-drive'),
    (["club", "x", "--yes"], "--name is needed where nothing is asked"),
    (["club", "x", "--name", "X", "--language", "tlh", "--yes"], '--language: the program has no words in "tlh"; '),
])  # fmt: skip
def test_what_cannot_be_begun_is_said(words: list[str], said: str, tmp_path: Path) -> None:
    root = write(tmp_path / "club")
    before = files(root)
    words = [str(tmp_path / "new") if word == "x" else word for word in words]
    result = say("new", *words, club=root)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1].startswith(f"Error: {said}")
    assert files(root) == before
    assert not (tmp_path / "new").exists()


def test_nobody_there_to_answer(tmp_path: Path) -> None:
    result = say("new", "club", tmp_path / "club")
    assert (result.exit_code, result.output) == (1, "What is the club called: \nNothing was written.\n")
    assert not (tmp_path / "club").exists()


def test_a_disk_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file where a folder is needed")
    result = say("new", "club", tmp_path / "file/club", "--name", "X", "--yes", "--take", "nothing")
    assert result.exit_code == 1
    assert result.output.splitlines()[0].startswith("not-written: schemas/club.json was not written: ")


def test_what_another_club_sends_later_carries_the_editors_line_too(tmp_path: Path) -> None:
    source, root, parcel = write(tmp_path / "source"), tmp_path / "club", tmp_path / "it.parcel"
    assert say("pack", "ROT", "-o", parcel, club=source).exit_code == 0
    assert say("new", "club", root, "--name", "Ours", "--take", "nothing", "--yes").exit_code == 0
    result = say("receive", parcel, "--yes", club=root)
    assert result.exit_code == 0, result.output
    check_editor(root)
    assert errors(root) == []


def test_a_club_that_writes_in_one_language_hears_of_no_other(tmp_path: Path) -> None:
    """Jobs that came along are in two; an engine type of its own is in English alone."""
    root = tmp_path / "club"
    say("new", "club", root, "--name", "Ours", "--take", "alder-100r", "--yes")
    say("new", "model", "rowan-100a", "--like", "alder-100r", "--yes", club=root)
    path = root / "models/rowan-100a.yaml"
    text, struck = re.subn(r"\{en: ([^{}]+), de: [^{}]+\}", r"\1", path.read_text("utf-8"))
    assert (struck > 5, "de:" in text) == (True, False)
    path.write_text(text, "utf-8")
    spoken = [one for one in (root / "procedures").iterdir() if re.search(r"^ +de: ", one.read_text("utf-8"), re.M)]
    assert len(spoken) > 3
    result = say("proof", club=root)
    assert result.exit_code == 0, result.output
    assert "0 faults" in result.output
    assert "missing-in-language" not in result.output
