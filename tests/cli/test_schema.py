"""schema: the shapes of the club's files, listed, printed, and put where an editor finds them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.schema.published import KINDS, json_schema, schema_file, schema_text
from tests.smallclub import write


def say(root: Path, *words: str) -> Result:
    said = ["--club", str(root), "schema", *words]
    return CliRunner().invoke(docgen, said, prog_name="docgen", catch_exceptions=False)


def test_the_kinds_are_listed(tmp_path: Path) -> None:
    result = say(tmp_path)
    assert (result.exit_code, result.stdout) == (0, """\
club       club.yaml              docgen schema club
procedure  procedures/*.yaml      docgen schema procedure
sequence   procedures/*.yaml      docgen schema sequence
model      models/*.yaml          docgen schema model
engine     engines/*/engine.yaml  docgen schema engine
stock      stock.yaml             docgen schema stock
labels     labels.yaml            docgen schema labels
glossary   glossary.yaml          docgen schema glossary
""")


@pytest.mark.parametrize("kind", KINDS)
def test_one_is_printed(kind: str, tmp_path: Path) -> None:
    result = say(tmp_path, kind)
    assert (result.exit_code, json.loads(result.stdout)) == (0, json_schema(kind))


def test_a_kind_that_is_none(tmp_path: Path) -> None:
    result = say(tmp_path, "procedur")
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (
        2, 'Error: there is no kind of file "procedur"; did you mean "procedure"?'
    )  # fmt: skip


def test_they_are_written_into_the_club_and_kept_fresh(tmp_path: Path) -> None:
    root = write(tmp_path / "club")
    assert say(root, "--write").stdout == "8 schemas written into schemas/\n"
    assert {path.name: path.read_text("utf-8") for path in (root / "schemas").iterdir()} == {
        Path(schema_file(kind)).name: schema_text(kind) for kind in KINDS
    }
    (root / "schemas/club.json").write_text("{}")
    assert say(root, "--write").stdout == "1 schema written into schemas/\n"
    assert say(root, "--write").stdout == "schemas/ is as it should be.\n"


def test_nothing_is_written_where_there_is_no_club(tmp_path: Path) -> None:
    result = say(tmp_path, "--write")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "no-club" in result.stderr
    assert list(tmp_path.iterdir()) == []
