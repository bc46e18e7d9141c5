"""`docgen enter` as a member uses it: box by box from the paper, one step back, stopped and gone on with."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.returns.prompts import prompts
from docgen.returns.reading import understand
from docgen.returns.walk import Walk
from tests.returns.conftest import GOOD, NUMBER, TODAY, Club, club_at

DRAFT = "engines/7A/drafts/7A-ROT-03-001.yaml"


@pytest.fixture
def fresh(tmp_path: Path) -> Club:
    """A club to write into."""
    return club_at(tmp_path)


def enter(club: Club, *typed: str, more: tuple[str, ...] = ()) -> Result:
    words = ["--club", str(club.root), "enter", NUMBER, "--on", "2030-04-10", "--every", *more]
    return CliRunner().invoke(
        docgen, words, prog_name="docgen", input="".join(f"{t}\n" for t in typed), catch_exceptions=False
    )


def typed_for(club: Club, answers: dict[str, str]) -> list[str]:
    """What somebody types who reads the answers off the paper, question by question."""
    walk, typed = Walk(prompts(club.sheet.job)), []
    while (prompt := walk.current) is not None:
        text = answers.get(prompt.field, "")
        if prompt.kind == "lines":
            typed += [*text.split("\n"), ""] if text else [""]
            walk.on()
        else:
            typed.append("y" if prompt.kind == "tick" and text else text)
            walk.answer(typed[-1])
    return typed


def services(club: Club) -> list[Service]:
    folder = read_club(club.root)
    assert [str(p) for p in folder.problems] == []
    return list(folder.engines["7A"].log.of(Service))


def test_typed_or_filled_it_is_the_same_event(fresh: Club) -> None:
    result = enter(fresh, *typed_for(fresh, GOOD), "y")
    assert result.exit_code == 0, result.output
    (service,) = services(fresh)
    expected = Service.model_validate(understand(fresh.sheet, GOOD, TODAY, 3).event)
    assert service.model_copy(update={"parents": ()}) == expected
    assert not (fresh.root / DRAFT).exists()


def test_the_sheet_is_walked_in_order_with_its_limits(fresh: Club) -> None:
    said = enter(fresh, *typed_for(fresh, GOOD), "y").stdout
    begin = said.index("Readings\n")
    assert said[begin : said.index("Hold points")] == (
        "Readings\n"
        "  13  Rotor gap\n"
        "      gap\n"
        "      accept 0.20 to 0.40 mm\n"
        "    Reading (mm): 0.30\n"
        "      within 0.20 to 0.45 mm\n"
        "\n"
    )
    titles = (
        "Work, Critical fasteners, Readings, Hold points, Seals, Parts renewed, Before you sign, After the first run, "
        "Also renewed, Struck through, Findings and remarks, Release, Second person, Next due"
    ).split(", ")
    places = [said.index(f"\n{title}") for title in titles]
    assert places == sorted(places)


def test_one_step_back_and_a_wrong_answer_stays_at_its_box(fresh: Club) -> None:
    result = enter(fresh, "2.4.2030", "back", "", "31.2.2030", "3.4.2030", "4 kg", "?", "4,0", "stop")
    assert result.exit_code == 0
    told = result.stdout[result.stdout.index("Work started on") :]
    assert told == (
        "Work started on (year-month-day): 2.4.2030\n"
        '      "2.4.2030" understood as 2030-04-02\n'
        "  Work completed on (year-month-day): back\n"
        "  Work started on (year-month-day) [2.4.2030]: \n"
        '      "2.4.2030" understood as 2030-04-02\n'
        "  Work completed on (year-month-day): 31.2.2030\n"
        '      "31.2.2030" is not a date: write year-month-day, as in 2027-03-14\n'
        "  Work completed on (year-month-day): 3.4.2030\n"
        '      "3.4.2030" understood as 2030-04-03\n'
        "  Engine hours at this work (h): 4 kg\n"
        '      "4 kg" is a figure of mass; the box is in h: look whether it was meant for another box\n'
        "  Engine hours at this work (h): ?\n"
        "  Enter   leave the box blank, or keep what stands in [ ]\n"
        "  -       empty a box that was filled\n"
        "  back    go to the box before\n"
        "  ?       show these words again\n"
        "  stop    keep what was typed, and go on another day\n"
        "  Engine hours at this work (h): 4,0\n"
        '      "4,0" understood as 4.0 h\n'
        "  Work done by (name): stop\n"
        "\nKept. The same command goes on from here.\n"
    )


def test_interrupted_anywhere_it_goes_on_where_it_was(fresh: Club) -> None:
    typed = typed_for(fresh, GOOD)
    assert len(typed) > 25
    for one in typed:
        result = enter(fresh, one)  # the terminal is closed after every answer
        assert result.exit_code == 1
        assert result.stdout.endswith("\nKept. The same command goes on from here.\n")
        assert services(fresh) == []
    assert "\nGoing on at: Or due on\n" in result.stdout
    assert enter(fresh, "y").exit_code == 0
    assert services(fresh)[0].torques["rotor-nut"].wrench == "Torque wrench 20 to 100"


def test_the_draft_is_no_part_of_the_record(fresh: Club) -> None:
    enter(fresh, "", "2030-04-03", "stop")
    assert (fresh.root / DRAFT).read_text("utf-8") == (
        "# An entry that is not finished: docgen enter goes on with it. It can be deleted.\n"
        "at: engine-hours\n"
        "answers:\n"
        "  work-completed: 2030-04-03\n"
    )
    assert services(fresh) == []
    (fresh.root / DRAFT).write_text("at: [", "utf-8")
    result = enter(fresh, "stop")
    assert result.exit_code == 1
    assert "draft-unreadable" in result.stderr


def test_what_is_refused_is_asked_for_again(fresh: Club) -> None:
    answers = GOOD | {"measure-rotor-gap": "0.55", "findings": ""}
    result = enter(fresh, *typed_for(fresh, answers), "y", "Spacer bent, renewed", "", "1", "y")
    assert result.exit_code == 0, result.output
    assert "    Reading (mm): 0.55\n      OUTSIDE 0.20 to 0.45 mm\n" in result.stdout
    assert "Go back to: Findings and remarks? [Y/n]: y\n" in result.stdout
    (service,) = services(fresh)
    assert (service.findings, service.remarks) == ((), ("Spacer bent, renewed",))


def test_refused_and_left_it_is_kept(fresh: Club) -> None:
    result = enter(fresh, *typed_for(fresh, GOOD | {"released-by": ""}), "n")
    assert result.exit_code == 1
    assert result.stdout.endswith(
        "Go back to: Released by (name)? [Y/n]: n\nWhat was typed is kept: the same command goes on from here.\n"
    )
    assert (fresh.root / DRAFT).exists()


def test_a_filed_sheet_is_not_typed_in_again(fresh: Club) -> None:
    enter(fresh, *typed_for(fresh, GOOD), "y")
    (event,) = (fresh.root / "engines/7A/log").glob("*.yaml")
    again = enter(fresh)
    assert (again.exit_code, again.stdout) == (1, "")
    assert again.stderr == (
        f"Error: already-filed: {NUMBER} is already filed, as {event.name}\n"
        '  to mend: to put another reading of the paper in its place: --correct "WHY"; '
        "to add the checks after the first run: --after-run\n"
    )
    put_right = typed_for(fresh, GOOD | {"measure-rotor-gap": "0.35"})
    assert enter(fresh, *put_right, "y", more=("--correct", "a five read as a nought")).exit_code == 0
    assert str(services(fresh)[0].readings["rotor-gap"][0]) == "0.35 mm"


def test_a_mistyped_number(fresh: Club) -> None:
    result = CliRunner().invoke(docgen, ["--club", str(fresh.root), "enter", "7A-ROT-03-001-S1-1"], prog_name="docgen")
    assert result.exit_code == 1
    assert result.stderr == (
        "Error: wrong-check-character: 7A-ROT-03-001-S1-1 has a letter or digit wrong: its check character does "
        "not fit\n"
        "  to mend: type it again from the sheet; 0 and O, 1 and I are easily taken for one another\n"
    )
