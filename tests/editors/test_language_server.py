"""A YAML language server, as editors use it, on files that carry the editor line: it checks, completes and explains.

The server comes from its registry, pinned with its digest in package-lock.json; without node or npm it is skipped.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from docgen.club.schema.published import KINDS, editor_line, schema_file, schema_text
from tests.club.editor import kind_of
from tests.club.wrong_files import CASES
from tests.editors.language_server import LanguageServer, language_server
from tests.smallclub import write

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
EXPECTED = HERE / "wrong_files.txt"
JOB = "procedures/rotor-service.yaml"


@pytest.fixture(scope="session")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that the server is installed in."""
    if not shutil.which("node") or not shutil.which("npm"):
        pytest.skip("there is no node here, so no language server can be asked")
    folder = tmp_path_factory.mktemp("server")
    for name in ("package.json", "package-lock.json"):
        shutil.copy(HERE / name, folder)
    got = subprocess.run(["npm", "ci", "--no-audit", "--no-fund"], cwd=folder, capture_output=True, text=True)
    if got.returncode:
        pytest.skip("the language server cannot be had from its registry here")
    return folder


@pytest.fixture(scope="session")
def club(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small club with its schemas, an editor line at the head of each file."""
    root = write(tmp_path_factory.mktemp("club"))
    (root / "schemas").mkdir()
    for kind in KINDS:
        (root / schema_file(kind)).write_text(schema_text(kind), "utf-8")
    for path in root.rglob("*.yaml"):
        text = path.read_text("utf-8")
        path.write_text(f"{editor_line(kind_of(path.relative_to(root).as_posix(), text))}\n{text}", "utf-8")
    return root


@pytest.fixture(scope="session")
def server(installed: Path, club: Path) -> Iterator[LanguageServer]:
    with language_server(installed, club) as found:
        yield found


def lines(found: list[dict[str, object]]) -> list[str]:
    """What is said, by line in the file without its editor line."""
    return [f"{one['range']['start']['line']}: {one['message']}" for one in found]  # type: ignore[index]


def test_right_files_are_right(server: LanguageServer, club: Path) -> None:
    paths = sorted(club.rglob("*.yaml"))
    assert len(paths) == 5
    assert {path.name: lines(server.faults(path)) for path in paths if lines(server.faults(path))} == {}


def expected() -> dict[str, list[str]]:
    """What the server says of each wrong file, as it was written down."""
    blocks = EXPECTED.read_text("utf-8").split("=== ")[1:]
    return {name: body.strip("\n").splitlines() for name, _, body in (block.partition(" ===\n") for block in blocks)}


def test_wrong_files_are_told_while_they_are_typed(server: LanguageServer, club: Path) -> None:
    found = {}
    for case, (path, right, wrong) in CASES.items():
        text = (club / path).read_text("utf-8")
        assert right in text, case
        found[case] = lines(server.faults(club / path, text.replace(right, wrong, 1)))
    assert found == expected()
    assert sum(bool(said) for said in found.values()) >= 30


def test_keys_and_words_are_offered(server: LanguageServer, club: Path) -> None:
    text = (club / JOB).read_text("utf-8")
    step = "      - do: Slide the spacer on.\n"
    server.faults(club / JOB, text.replace(step, f"{step}        \n"))
    line = text[: text.index(step)].count("\n") + 1
    offered = {item["label"]: item.get("documentation") for item in server.offered(club / JOB, line, 8)}
    assert {"why", "undoes", "removes", "tightens", "measure", "look", "hold"} <= offered.keys()
    assert offered["removes"] == "Parts that come off here, in order."
    assert not {"do", "fits", "takes"} & offered.keys(), "they are there already"

    word = "word: warning"
    server.faults(club / JOB, text.replace(word, "word: "))
    at = text[: text.index(word)].splitlines()
    offered_words = [item["label"] for item in server.offered(club / JOB, len(at) - 1, len(at[-1]) + len("word: "))]
    assert offered_words == ["danger", "warning", "caution", "notice"]


def test_a_key_is_explained(server: LanguageServer, club: Path) -> None:
    text = (club / JOB).read_text("utf-8")
    server.faults(club / JOB, text)
    at = text[: text.index("undoes:")].splitlines()
    said = server.explained(club / JOB, len(at) - 1, len(at[-1]) + 1)
    assert "Fasteners that are undone here, in order; their drive and holding tool follow from the model." in said
