"""current: a sheet on the wall held against what it would say today; each kind of change said for what it is."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any, get_args

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.translation import spoken
from docgen.job.figure import Figure
from docgen.job.issue import issue, number_of
from docgen.job.job import Instructions, Job
from docgen.job.marks import Mark
from docgen.job.number import SheetNumber
from docgen.job.resolve import resolve
from docgen.returns.filing import file_event
from docgen.share.differences import MARKS
from docgen.share.reprint import NOT_SAID, differences
from docgen.trade.quantity import QuantityError, parse_band, parse_quantity
from tests.smallclub import texts, write

ROOT = Path(__file__).resolve().parents[2]
DAY = date(2030, 4, 1)
JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
SHEET = SheetNumber("7A", "ROT", 3, 1).text


def issued(root: Path, engine: str = "7A") -> Job:
    """Issue the rotor job as printing does, without the pages."""
    folder = read_club(root)
    job = resolve(folder, folder.engines[engine], folder.procedures["rotor-service"], DAY)
    return issue(root / "engines" / engine / "issued", job)


@pytest.fixture
def club(tmp_path: Path) -> Path:
    root = write(tmp_path / "club")
    assert number_of(issued(root)).text == SHEET
    return root


def say(root: Path, *words: str) -> Result:
    args = ["--club", str(root), "current", *words, "--on", "2030-05-01"]
    return CliRunner().invoke(docgen, args, prog_name="docgen", catch_exceptions=False)


def change(root: Path, path: str, before: str, after: str) -> None:
    text = (root / path).read_text("utf-8")
    assert text.count(before) >= 1
    (root / path).write_text(text.replace(before, after, 1), "utf-8")


HEAD = f"{SHEET}, Rotor - clean and regrease, engine 7A, printed 2030-04-01"
AGAIN = "  docgen print 7A --job ROT\n"


def test_a_sheet_that_says_what_it_would_say_is_current(club: Path) -> None:
    change(club, JOB, "procedure: rotor-service", "# A note\nprocedure: rotor-service")
    assert file_event(club, "7A", {"event": "run", "date": "2030-04-20", "hours": "2 h"}).new
    result = say(club, SHEET.lower())
    assert (result.exit_code, result.stdout) == (
        0, f"{HEAD}: current. Printed on 2030-05-01, it would say the same.\n"
    )  # fmt: skip
    result = say(club)
    assert (result.exit_code, result.stdout) == (
        0, "1 of 1 sheet is current on 2030-05-01: the latest print of each job on each engine was looked at.\n"
    )  # fmt: skip


SPACER_ON = "      - do: Slide the spacer on."
HELD = "        hold: {why: A rotor that rubs bends the crankshaft., id: gap-seen}\n"
CASES: dict[str, tuple[str, str, str, str]] = {
    "a torque": (MODEL, "torque: 34 N.m +/- 10 %", "torque: 36 N.m +/- 10 %", """\
  NUMBER  step 12, Tighten the rotor nut: tightening
      was: 34 N·m ± 10 %
      now: 36 N·m ± 10 %
  NUMBER  step 12, Tighten the rotor nut: tightening, also
      was: 22.6 to 27.5 lbf·ft
      now: 23.9 to 29.2 lbf·ft
  NUMBER  step 12, Tighten the rotor nut: tightening, set to
      was: 34 N·m
      now: 36 N·m
3 numbers among 3 changes. Take it down, and print it again:
"""),
    "a caution": (JOB, "consequence: Burns.", "consequence: Burns and blindness.", """\
  SAFETY  safety message WARNING (solvent)
      was: Cleaning fluid vapour catches fire. Burns. Work in the open air, away from flame and spark.
      now: Cleaning fluid vapour catches fire. Burns and blindness. Work in the open air, away from flame and spark.
1 safety matter among 1 change. Take it down, and print it again:
"""),
    "a word": (JOB, "do: Undo the rotor nut.", "do: Undo the nut of the rotor.", """\
  words  step 3, Undo the rotor nut: text
      was: Undo the rotor nut.
      now: Undo the nut of the rotor.
1 change, no number and no safety matter. Print it again:
"""),
    "a number in a text": (JOB, "do: Slide the spacer on.", "do: Slide the spacer on, and turn it twice.", """\
  NUMBER  step 9, Slide the spacer on: text
      was: Slide the spacer on.
      now: Slide the spacer on, and turn it twice.
1 number among 1 change. Take it down, and print it again:
"""),
    "a limit of the model": (MODEL, "allow: 0.20..0.45 mm", "allow: 0.20..0.40 mm", """\
  NUMBER  step 13, Measure the rotor gap at the widest place: reading, allow
      was: 0.20 to 0.45 mm
      now: 0.20 to 0.40 mm
  NUMBER  step 13, Measure the rotor gap at the widest place: reading, accept
      was: 0.20 to 0.40 mm
      now: 0.20 to 0.35 mm
2 numbers among 2 changes. Take it down, and print it again:
"""),
    "a step that is gone": (JOB, "      - do: Let rotor and nut dry.\n        wait: 10 min\n", "", """\
  SAFETY  step 7 (gone): Let rotor and nut dry.; waiting time 10 min
1 safety matter among 1 change. Take it down, and print it again:
"""),
    "a step that is new": (JOB, SPACER_ON, f"      - do: Tidy the bench.\n{SPACER_ON}", """\
  words  step 9 (new): Tidy the bench.
1 change, no number and no safety matter. Print it again:
"""),
    "a hold point that is gone": (JOB, HELD, "        id: gap-seen\n", """\
  SAFETY  step 13, Measure the rotor gap at the widest place: hold point (gone): reason A \
rotor that rubs bends the crankshaft.
1 safety matter among 1 change. Take it down, and print it again:
"""),
    "which way round": (MODEL, "towards: the crankcase", "towards: the rotor", """\
  SAFETY  step 9, Slide the spacer on: which way round, towards
      was: the crankcase
      now: the rotor
1 safety matter among 1 change. Take it down, and print it again:
"""),
    "what must be true before": (JOB, "extinguisher near.]", "extinguisher near., Gloves on.]", """\
  SAFETY  what must be true before the start (new): Gloves on.
1 safety matter among 1 change. Take it down, and print it again:
"""),
}


@pytest.mark.parametrize("case", CASES)
def test_each_kind_of_change_is_said_for_what_it_is(case: str, club: Path) -> None:
    path, before, after, said = CASES[case]
    change(club, path, before, after)
    result = say(club, SHEET)
    assert (result.exit_code, result.stdout) == (1, f"{HEAD}: no longer current.\n{said}{AGAIN}")


def test_a_deviation_is_said_with_every_value_that_follows_it(club: Path) -> None:
    deviation = {"event": "deviation", "date": "2030-04-10", "item": "plate-screws", "what": "One hole re-tapped"}
    file_event(club, "7A", {**deviation, "changes": {"thread": "M8x1.25", "boss": {"material": "aluminium"}}})
    result = say(club, SHEET)
    assert result.exit_code == 1
    lines = result.stdout.splitlines()
    at = "step 17, Tighten the screws of the side plate crosswise: tightening"
    assert lines == [
        f"{HEAD}: no longer current.",
        "  SAFETY and NUMBER  where this engine is not as its type (new): plate screws; One hole re-tapped;"
        " thread M8x1.25 instead of M6x1, drive ______, tighten ______ (no figure is known);"
        " voids The maker's torque, driver and source for the old thread no longer hold.",
        "  NUMBER  step 1, Undo the screws of the side plate: tool for, drive (gone): 10 mm socket",
        "  NUMBER  step 1, Undo the screws of the side plate: tool for, size (gone): hex 10 mm",
        f"  NUMBER  {at}, thread",
        "      was: M6x1",
        "      now: M8x1.25",
        f"  NUMBER  {at}, drive (gone): 10 mm socket",
        f"  NUMBER  {at}, size (gone): hex 10 mm",
        "  words  tool (gone): 10 mm socket; used for plate screws",
        f"  words  {at} (gone): evenly and snug",
        f"  words  {at}, by feel (gone): yes",
        "6 numbers and 1 safety matter among 9 changes. Take it down, and print it again:",
        AGAIN.rstrip(),
    ]
    assert say(club, SheetNumber("7A", "ROT", 3, 1, "S", 2).text).stdout.splitlines()[1:] == lines[1:]


def test_a_revision_is_named_and_a_change_of_mere_words_is_no_alarm(club: Path) -> None:
    change(club, JOB, "revision: 3\ndated: 2030-01-15", "revision: 4\ndated: 2030-04-20")
    change(club, JOB, "purpose" if "purpose" in texts()[JOB] else "before:", "purpose: To keep it.\nbefore:")
    assert say(club, SHEET).stdout == f"""\
{HEAD}: no longer current.
  revision 3 of 2030-01-15 is now revision 4 of 2030-04-20
  words  purpose (new): To keep it.
1 change, no number and no safety matter. Print it again:
{AGAIN}"""


def test_those_to_reprint_are_listed(club: Path) -> None:
    issued(club, "8B")
    change(club, MODEL, "torque: 34 N.m +/- 10 %", "torque: 36 N.m +/- 10 %")
    result = say(club)
    other = SheetNumber("8B", "ROT", 3, 1).text
    assert (result.exit_code, result.stdout) == (1, f"""\
Reprint these 2:
  {SHEET}     Rotor - clean and regrease: 3 numbers among 3 changes
  {other}     Rotor - clean and regrease: 3 numbers among 3 changes

0 of 2 sheets are current on 2030-05-01: the latest print of each job on each engine was looked at.
  docgen print 7A --job ROT
  docgen print 8B --job ROT
""")
    issued(club)
    assert say(club).stdout.splitlines()[0] == "Reprint this one:"
    assert say(club, SHEET).exit_code == 1, "the first print still hangs on the wall"
    told = json.loads(say(club, SHEET, "--json").stdout)
    assert [one["where"] for one in told[0]["changes"]] == [
        "step 12, Tighten the rotor nut: tightening", "step 12, Tighten the rotor nut: tightening, also",
        "step 12, Tighten the rotor nut: tightening, set to",
    ]  # fmt: skip
    assert (told[0]["state"], told[0]["numbers"], told[0]["safety"]) == ("changed", 3, 0)


def test_what_nobody_would_print_is_taken_down(club: Path) -> None:
    (club / JOB).unlink()
    assert say(club, SHEET).stdout == (
        f"{HEAD}: take it down.\n  no job of this club has the code ROT\n"
    )
    assert say(club).stdout.splitlines()[0] == "Take down this one:"


def test_what_was_not_kept_is_not_guessed(club: Path) -> None:
    next((club / "engines/7A/issued").glob(f"{SHEET[:13]}-*.yaml")).unlink()
    head = f"{SHEET}, Rotor - clean and regrease, engine 7A"
    missing = "it is not in engines/7A/issued"
    assert say(club, SHEET).stdout == f"""\
{head}: nobody can tell whether it is current.
  the revision is the same; what it said of engine 7A was not kept here ({missing})
{AGAIN}"""
    change(club, JOB, "revision: 3", "revision: 4")
    assert say(club, SHEET).stdout == f"{head}: no longer current.\n  revision 3 is now revision 4\n{AGAIN}"


def test_a_record_that_was_edited_is_not_believed(club: Path) -> None:
    path = f"engines/7A/issued/{next((club / 'engines/7A/issued').iterdir()).name}"
    change(club, path, "34 N.m", "35 N.m")
    change(club, MODEL, "torque: 34 N.m +/- 10 %", "torque: 36 N.m +/- 10 %")
    result = say(club, SHEET)
    assert result.stdout.splitlines()[1] == (
        f"  the revision is the same; what it said cannot be told: {path} is not as it was when the sheet was printed"
    )


def test_a_blank_sheet_has_its_revision_alone(club: Path) -> None:
    blank = SheetNumber("BLANK", "ROT", 3, 0).text
    said = say(club, blank).stdout.splitlines()[1]
    assert said == "  the revision is the same; of a blank sheet nothing more is kept"
    change(club, JOB, "revision: 3", "revision: 4")
    assert say(club, blank).stdout.splitlines()[1] == "  revision 3 is now revision 4"


@pytest.mark.parametrize(("typed", "said"), [
    (f"{SHEET[:-1]}?", f'"{SHEET[:-1]}?" is not a sheet number: it looks like 017-CLU-04-003-S1-2'),
    (SHEET.replace("03", "04"),
     f"{SHEET.replace('03', '04')} has a letter or digit wrong: its check character does not fit"),
])  # fmt: skip
def test_a_slip_in_the_number_is_found(typed: str, said: str, club: Path) -> None:
    result = say(club, typed)
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (
        2, f"Error: {said}; type it again: 0 and O, 1 and I are easily taken for one another"
    )  # fmt: skip


def test_nothing_is_said_while_files_have_errors(club: Path) -> None:
    change(club, JOB, "fits: [rotor]", "fits: [rotr]")
    result = say(club, SHEET)
    assert (result.exit_code, result.stdout) == (1, "")
    assert "unknown-part" in result.stderr


def test_every_kind_of_mark_has_its_word() -> None:
    kinds = {get_args(one.model_fields["mark"].annotation)[0] for one in get_args(get_args(Mark)[0])}
    assert kinds == set(MARKS)


def leaves(value: Any, way: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    if isinstance(value, dict):
        for key, one in value.items():
            yield from leaves(one, (*way, key))
    elif isinstance(value, list):
        for at, one in enumerate(value):
            yield from leaves(one, (*way, at))
    else:
        yield way, value


def another(text: str) -> str:
    """Another figure, as files spell it, or a text with a figure more."""
    for parse, form in ((parse_quantity, "7.5 {}"), (parse_band, "<= 7.5 {}")):
        with suppress(QuantityError):
            return form.format(parse(text).unit)
    return f"{text} 7"


def test_no_change_of_what_a_sheet_says_goes_unseen(club: Path) -> None:
    told = issued(club).instructions
    seen = 0
    for way, old in leaves(told.model_dump(mode="json")):
        of_a_step = len(way) == 5 and way[-1] in ("number", "row", "label")  # which steps before it change too
        if of_a_step or NOT_SAID & {part for part in way if isinstance(part, str)} or way[-1] == "when":
            continue
        if way[-1] in Figure.model_fields and not old:  # a figure holds a band, or words in its place
            continue
        new = {bool: not old, int: 7, str: another(str(old)), type(None): "7 min"}[type(old)]
        data = told.model_dump(mode="json")
        at: Any = data
        for part in way[:-1]:
            at = at[part]
        at[way[-1]] = new
        seen += 1
        assert differences(told, Instructions.model_validate(data)) != [], way
    assert seen > 150
    assert differences(told, told) == []


def test_a_row_is_told_of_where_it_says_more_than_its_step(club: Path) -> None:
    for do, row in (("Undo the rotor nut.", "Rotor nut off"), ("Clean the rotor.", "Rotor clean"),
                    ("Slide the spacer on.", "Slide the spacer on.")):  # fmt: skip
        change(club, JOB, f"do: {do}\n", f"do: {do}\n        row: {row}\n")
    change(club, JOB, "        wait: 10 min", "        adds: let dry\n        wait: 10 min")
    sheet = number_of(issued(club)).text
    change(club, JOB, "adds: let dry", "adds: let it dry")
    for key in ("do", "row"):
        change(club, JOB, f"{key}: Slide the spacer on.", f"{key}: Push the spacer on.")
    wiped = "cleans: {rotor-nut: fluid}"
    change(club, JOB, wiped, f"off_leaf: The rotor's row says it.\n        {wiped}")
    assert say(club, sheet).stdout.splitlines()[1:] == [
        "  SAFETY  step 3b, Wipe the thread of the rotor nut with the fluid: not on the leaf (new): yes",
        "  words  step 3a, Clean the rotor: row of the leaf",
        "      was: Rotor clean, let dry",
        "      now: Rotor clean, let it dry",
        "  words  step 4a, Slide the spacer on: text",
        "      was: Slide the spacer on.",
        "      now: Push the spacer on.",
        "1 safety matter among 3 changes. Take it down, and print it again:",
        AGAIN.rstrip(),
    ]


def test_a_sheet_from_before_there_were_rows_had_one_for_each_step(club: Path) -> None:
    told = issued(club).instructions
    steps = [[step.model_copy(update={"row": 0, "line": "", "label": ""}) for step in stage.steps]
             for stage in told.stages]  # fmt: skip
    stages = [stage.model_copy(update={"steps": tuple(of)}) for stage, of in zip(told.stages, steps, strict=True)]
    assert differences(told.model_copy(update={"stages": tuple(stages)}), told) == []


def test_a_sheet_in_another_language_is_held_against_that_language(tmp_path: Path) -> None:
    root = tmp_path / "club"
    for name in ("models", "procedures", "engines/023"):
        shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("issued"))
    shutil.copy(ROOT / "club.yaml", root)
    folder = spoken(read_club(root), "de")
    job = resolve(folder, folder.engines["023"], folder.procedures["spark-plug-renewal"], date(2027, 2, 20))
    assert (job.instructions.language, job.instructions.title) == ("de", "Zündkerze erneuern")
    job = issue(root / "engines/023/issued", job)
    assert say(root, number_of(job).text).exit_code == 0
    change(root, "procedures/spark-plug-renewal.yaml", "Zündkerze erneuern", "Zündkerze ersetzen")
    result = say(root, number_of(job).text)
    assert result.stdout.splitlines()[1:4] == [
        "  words  title", "      was: Zündkerze erneuern", "      now: Zündkerze ersetzen"
    ]  # fmt: skip
