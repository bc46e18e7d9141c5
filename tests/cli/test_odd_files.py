"""What may lie in a club's folder by accident or malice: no command waits for it, reads it whole or ends by it."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from docgen.proof.releases import FILE
from tests.cli.record_club import numbered, say
from tests.fuzz.found import BREAKS_QPDF
from tests.returns.conftest import NUMBER

PATIENCE = 120
"""Seconds after which a command hangs."""
DAY = ("--on", "2030-04-01")


def page(width: int, height: int) -> bytes:
    document = pikepdf.new()
    document.add_blank_page()
    document.pages[0].obj.MediaBox = pikepdf.Array([0, 0, width, height])
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def strew(folder: Path, ending: str) -> None:
    """Put everything odd into a folder, each under a name of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    os.mkfifo(folder / f"pipe{ending}")
    (folder / f"link{ending}").symlink_to("/dev/zero")
    (folder / f"loop{ending}").symlink_to(f"loop{ending}")
    with (folder / f"huge{ending}").open("wb") as file:
        file.truncate(20 << 30)
    (folder / f"thin{ending}").write_bytes(page(1, 14_400))
    (folder / f"crash{ending}").write_bytes(BREAKS_QPDF)
    (folder / f"folder{ending}").mkdir()
    (folder / f"empty{ending}").write_bytes(b"")


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = numbered(tmp_path_factory.mktemp("club"))
    assert say(root, "print", "7A", "--job", "ROT", *DAY).exit_code == 0
    strew(root / "out", ".pdf")
    strew(root / "out/8B", ".pdf")
    for sub in ("shared", "shared/versions", "shared/beside", "engines/7A/drafts"):
        strew(root / sub, ".yaml")
    os.mkfifo(root / "out/.read-before")
    os.mkfifo(root / "out/7A/.docgen-printed.x")
    os.mkfifo(root / "engines/7A/drafts/7A-ROT-03-001.yaml")
    return root


def run(root: Path, *words: str) -> tuple[int, str, str]:
    """A command in a process of its own, with an end."""
    call = f"import sys; from docgen.cli import main; sys.argv[1:] = {['--club', str(root), *words]!r}; main()"
    done = subprocess.run([sys.executable, "-c", call], capture_output=True, text=True, timeout=PATIENCE, input="")
    assert "Traceback" not in done.stderr, done.stderr
    return done.returncode, done.stdout.replace(f"{root}/", ""), done.stderr.replace(f"{root}/", "")


def test_the_index_names_each_and_lists_the_others(root: Path) -> None:
    code, said, told = run(root, "index", *DAY)
    assert (code, said.splitlines()[-1]) == (0, "2 sheets: out/index.html")
    found = dict(line.split(" is left out: ") for line in told.splitlines())
    for folder in ("out", "out/8B"):
        assert {name: found[f"{folder}/{name}.pdf"] for name in ("pipe", "link", "loop", "huge", "thin", "folder")} == {
            "pipe": "it is no ordinary file",
            "link": "it is a link to another place, which is not followed",
            "loop": "it is a link to another place, which is not followed",
            "huge": f"it is larger than the {40 << 20} bytes that are read",
            "thin": "its first page is no shape that paper has",
            "folder": "Is a directory",
        }
        assert f"{folder}/crash.pdf" in found
        assert found[f"{folder}/empty.pdf"] == "it is no PDF, or damaged"
    page = (root / "out/index.html").read_text("utf-8")
    assert "7A/7A-ROT-leaf.pdf" in page
    assert "7A/7A-ROT-sign-off.pdf" in page


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("due", *DAY), 0), (("verify",), 0), (("proof",), 0), (("current", *DAY), 0),
        (("print", "8B", "--job", "ROT", *DAY), 0),
    ],
)  # fmt: skip
def test_no_command_waits_for_it(root: Path, words: tuple[str, ...], code: int) -> None:
    ended, said, told = run(root, *words)
    assert ended == code, said + told


def test_a_draft_that_is_no_file_is_said(root: Path) -> None:
    code, _, told = run(root, "enter", NUMBER)
    assert (code, told) == (
        1,
        "Error: draft-unreadable: engines/7A/drafts/7A-ROT-03-001.yaml cannot be read: it is no ordinary file\n"
        "  to mend: delete it, and begin anew\n",
    )


def test_what_stands_in_the_way_of_a_parcel_is_said(tmp_path: Path) -> None:
    root = numbered(tmp_path / "club")
    (root / "shared").mkdir()
    os.mkfifo(root / "shared/to-put")
    code, _, told = run(root, "due")
    assert (code, told.splitlines()[0]) == (
        1, "not-written: what a parcel brought was not written: it is no ordinary file",
    )  # fmt: skip


def test_a_pipe_that_somebody_names_is_not_waited_for(root: Path, tmp_path: Path) -> None:
    pipe = tmp_path / "sheet.pdf"
    os.mkfifo(pipe)
    for words in (("file", str(pipe)), ("receive", str(pipe)), ("ran", "--from", str(pipe))):
        code, said, told = run(root, *words)
        assert (code, "it is no ordinary file" in said + told) == (1, True), said + told


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ("Kupplung geprüft".encode("utf-16"), "this file is not UTF-8 text: it was saved in another encoding"),
        ("geprüft".encode("latin-1"), "this file is not UTF-8 text: it was saved in another encoding"),
        (None, "this file cannot be read: it is no ordinary file"),
    ],
)
def test_releases_in_another_encoding_are_a_problem(tmp_path: Path, data: bytes | None, said: str) -> None:
    root = numbered(tmp_path / "club")
    if data is None:
        os.mkfifo(root / FILE)
    else:
        (root / FILE).write_bytes(data)
    for words in (("proof",), ("release", "ROT")):
        code, _, told = run(root, *words)
        assert (code, told.splitlines()[0]) == (1, f"{FILE} unreadable-file: {said}")


@pytest.mark.parametrize("words", [("kit", "--job", "ROT"), ("print", "--job", "ROT"), ("binder", "--job", "ROT")])
def test_an_engine_whose_file_cannot_be_read_is_not_left_out_silently(tmp_path: Path, words: tuple[str, ...]) -> None:
    root = numbered(tmp_path / "club")
    (root / "engines/7A/engine.yaml").write_bytes(b"\xff\xfe" + b"\0" * 40)
    result = say(root, *words, *DAY)
    assert "engines/7A/engine.yaml" in result.stderr, result.output
    assert result.exit_code == 1 or "Left out, since files that they need have errors: 7A." in result.stderr
