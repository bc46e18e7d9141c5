"""The commands as a member types them, whole answers compared."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from tests.smallclub import texts, write


def say(root: Path, *words: str) -> Result:
    """Run the command in the small club."""
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


@pytest.fixture
def club(tmp_path: Path) -> Path:
    return write(tmp_path)


def test_due_as_text(club: Path) -> None:
    result = say(club, "due", "--on", "2030-04-01")
    assert (result.exit_code, result.stderr) == (0, "")
    assert (
        result.stdout
        == """\
On 2030-04-01: 3 due, on 2 engines.
3 of them before First (2030-05-05).
docgen print --due prints what is overdue and due; --why says every reason, and when each was last done.

Due
  7A     ROT  Rotor - clean and regrease                    no record that it was ever done
  8B          rotor                                         rotor: its age is not known (allowed 10.0 h)
  8B     ROT  Rotor - clean and regrease                    no record that it was ever done

No running entered for two months or more
  7A     none ever entered; in the record since 2029-03-01
"""
    )


def test_due_with_every_reason(club: Path) -> None:
    result = say(club, "due", "7A", "--why", "--on", "2030-04-01")
    assert result.stdout.partition("\nDue\n")[2].partition("\n\n")[0] == """\
  7A     ROT  Rotor - clean and regrease
              no record that it was ever done
              before First (2030-05-05)
              last done: never in this record"""


def test_due_as_json(club: Path) -> None:
    rows = json.loads(say(club, "due", "7A", "--on", "2030-04-01", "--json", "--all").stdout)
    found = [(r["engine"], r["job"], r["state"]) for r in rows]
    assert found == [("7A", "rotor-service", "due"), ("7A", "", "in date")]


def test_nothing_due(club: Path) -> None:
    assert say(club, "due", "7A", "--on", "2029-01-01").exit_code == 0


@pytest.mark.parametrize("day", ["1.4.2030", "01.04.30", "1 April 2030"])
def test_a_day_is_written_as_people_write_it(club: Path, day: str) -> None:
    right, other = say(club, "due", "--on", "2030-04-01"), say(club, "due", "--on", day)
    assert (other.exit_code, other.stdout) == (right.exit_code, right.stdout)
    assert other.stderr.startswith(f'"{day}" understood as 2030-04-01\n')


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["prnt"], 'there is no command "prnt"; did you mean "print"?'),
        (["due", "7B"], 'there is no engine "7B"; known: 7A, 8B'),
        (["due", "--on", "1.14.2030"],
         "Invalid value for '--on': \"1.14.2030\" is not a date: write year-month-day, as in 2027-03-14"),
        (["due", "--on", "1/4/2030"],
         "Invalid value for '--on': \"1/4/2030\" may be 2030-04-01 or 2030-01-04: write year-month-day"),
        (["print"], "say what to print: an engine, a --job, or --due for all that is due"),
        (["print", "7A", "--job", "rotor-servce"], 'there is no job "rotor-servce"; did you mean "rotor-service"?'),
        (["engine"], "Missing argument 'NUMBER'."),
    ],
)  # fmt: skip
def test_usage_errors_say_what_was_meant(club: Path, words: list[str], message: str) -> None:
    result = say(club, *words)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == f"Error: {message}"


def test_outside_a_club(tmp_path: Path) -> None:
    result = say(tmp_path, "due")
    assert result.exit_code == 1
    assert result.stderr.startswith(f"club.yaml no-club: there is no club.yaml in {tmp_path}\n")


def test_engine_shows_its_record(club: Path) -> None:
    result = say(club, "engine", "7A", "--on", "2030-04-01")
    assert result.exit_code == 0
    assert (
        result.stdout
        == """\
Engine 7A: Willow 80, serial W80-0007
Keeper Ágnes Őry; in the record since 2029-03-01
Hours on 2030-04-01: 4.0 h
Hours since rebuilt: no rebuild on record
Record up to nothing yet

Deviations
  none

Open findings
  none

Parts with a limited life
  rotor: 4.0 h of 10.0 h

Seals
  side plate: S-100

Components
  none

Latest readings
  none

Settings
  none

Kept by
  2029-03-01  Ágnes Őry

Running
  none

Log
  none
"""
    )


def test_a_wrong_file_stops_the_print_and_is_shown(club: Path) -> None:
    path = club / "procedures/rotor-service.yaml"
    path.write_text(texts()["procedures/rotor-service.yaml"].replace("code: ROT\n", ""), "utf-8")
    result = say(club, "print", "7A", "--due")
    assert result.exit_code == 1
    assert result.stderr.startswith('procedures/rotor-service.yaml:1:1 missing-key: the key "code" is missing\n')
    assert not (club / "out").exists()


def test_another_engine_s_wrong_file_stops_only_that_engine(club: Path) -> None:
    (club / "engines/8B/engine.yaml").write_text("engine: 8B\n", "utf-8")
    faulty = say(club, "print", "8B", "--due")
    assert faulty.exit_code == 1
    assert faulty.stderr.startswith('engines/8B/engine.yaml:1:1 missing-key: the key "keeper" is missing\n')
    assert say(club, "print", "7A", "--due", "--on", "2030-06-10").exit_code == 0


def test_completion_knows_engines_and_jobs(club: Path) -> None:
    for shell in ("bash", "zsh", "fish"):
        assert "_DOCGEN_COMPLETE" in say(club, "completion", shell).stdout
    environment = {"_DOCGEN_COMPLETE": "bash_complete", "COMP_WORDS": f"docgen --club {club} due ", "COMP_CWORD": "4"}
    result = CliRunner().invoke(docgen, [], env=environment, prog_name="docgen")
    assert [line.split(",")[1] for line in result.stdout.splitlines()] == ["7A", "8B"]
