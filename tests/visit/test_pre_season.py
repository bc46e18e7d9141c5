"""The pre-season of an engine is a visit of the jobs that it gathers, and loses nothing that its one file once held.

`pre_season_before.csv` is what that file looked at, measured, renewed, held, set and sealed on each engine type, as it
was before it became a visit.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

import pymupdf
import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.schema.procedure import Step
from docgen.club.verbs.stops import LONG
from docgen.club.words import Words
from docgen.job.resolve import resolve
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.entries import Entries
from docgen.sheets.leaf import leaf
from docgen.sheets.reading import reading
from docgen.sheets.record_tables import tables
from docgen.sheets.signoff import signoff
from docgen.sheets.tables import Told
from docgen.visit.grouping import Visit, visit
from docgen.visit.job import in_one_visit, visit_job
from tests.shares import share

ROOT, ON = Path(__file__).parents[2], date(2027, 2, 20)
ENGINES = {"alder-100r": "023", "hazel-60j": "021", "larch-125w": "042"}
LEAF, READING, SIGNED = 12, 24, 4
"""The most faces and pages."""


@cache
def club() -> Folder:
    return read_club(ROOT)


@cache
def gathered(engine: str) -> Visit:
    folder = club()
    record = folder.engines[engine]
    return visit(folder, record, in_one_visit(folder, record, [folder.procedures["pre-season"]]), ON)


def held(step: Step) -> Iterator[tuple[str, str, str]]:
    """What a step leaves, as the data file has it."""
    if step.look:
        yield "check", step.look.id, str(step.look.accept)
    yield from (("reading", name, "") for name in (step.measure.of if step.measure else ()))
    yield from (("renewal", name, "") for name in step.renews)
    yield from (("found", name, "") for name in step.finds)
    yield from (("setting", name, "") for name in step.sets)
    yield from (("seal", name, "") for name in step.seals)
    if step.hold:
        yield "hold", step.key or "", ""
    if step.repeat:
        yield "repeat", step.key or "", ""


WORDED_ANEW = {("check", "all-tight")}
"""What is still looked at, in other words: the axle at idle is a look of its own."""


@pytest.mark.parametrize("model", ENGINES)
def test_nothing_that_the_one_file_held_is_lost(model: str) -> None:
    rows = csv.DictReader((Path(__file__).parent / "pre_season_before.csv").read_text().splitlines())
    before = [(row["kind"], row["name"], row["accepted"]) for row in rows if row["model"] == model]
    assert Counter(kind for kind, *_ in before).keys() >= {"check", "reading", "renewal", "hold", "setting", "seal"}
    now = {one for placed in gathered(ENGINES[model]).steps for one in held(placed.step)}
    named = {one[:2] for one in now}
    assert [one for one in before if one not in now and one[:2] not in WORDED_ANEW & named] == []


@pytest.mark.parametrize("engine", ENGINES.values())
def test_all_that_fits_is_joined(engine: str) -> None:
    folder, found = club(), gathered(engine)
    model = folder.models[folder.engines[engine].engine.model].value
    own = folder.procedures["pre-season"].value
    wanted = [name for name in ("pre-season", *own.gathers) if folder.fits(name, model)]
    assert [job.value.procedure for job in found.jobs] == wanted
    assert found.apart == ()


@pytest.mark.slow
@pytest.mark.parametrize("engine", [*ENGINES.values()][: share(1, 3)])
def test_it_fits_its_paper(engine: str) -> None:
    """Its reading is that of what it holds itself: each job that it gathers has its own."""
    folder = club()
    own, record = folder.club.value, folder.engines[engine]
    job = visit_job(folder, record, gathered(engine), ON)
    alone = resolve(folder, record, folder.procedures["pre-season"], ON)
    pages = {}
    for name, page in (("leaf", leaf(job, own)), ("reading", reading(alone, own)), ("sign-off", signoff(job, own))):
        done = press(order(name, page, job, own.club, forms=name == "sign-off"))
        assert done.faults == ()
        assert done.pressed is not None
        pages[name] = done.pressed.pages
    assert pages["leaf"] <= LEAF
    assert pages["reading"] <= READING
    assert pages["sign-off"] <= SIGNED


def test_each_job_of_it_is_signed_for_itself() -> None:
    folder = club()
    job = visit_job(folder, folder.engines["023"], gathered("023"), ON)
    assert job.instructions.title == "One visit: Pre-season"
    assert [part.code for part in job.instructions.parts][:2] == ["PRE", "MOU"]
    assert [check.key for check in job.instructions.closing] == ["all-tight", "stop-switch", "exhaust-tight"]


@pytest.mark.parametrize("engine", ["023", "042"])
def test_a_cure_stands_for_no_other_wait(engine: str) -> None:
    """The battery is charged until it shows full, however long the threadlocker cures later."""
    waits = [one.step.wait for one in gathered(engine).steps if one.step.wait]
    assert [str(one.for_) for one in waits if one.for_ >= LONG and not one.cools] == ["6 h", "24 h"]
    job = visit_job(club(), club().engines[engine], gathered(engine), ON)
    table = next(one for one in tables(Entries(job, Words())) if one.key == "waits")
    assert [row[1].text.replace("\u00a0", " ") for row in table.rows if isinstance(row[1], Told)][:2] == ["6 h", "24 h"]


@pytest.mark.parametrize("engine", ENGINES.values())
def test_each_row_is_a_mechanic_s_and_nothing_is_asked_or_tightened_twice(engine: str) -> None:
    """Rows that a visit splits have what each step says for that. A proof is asked again only where its part was off
    again."""
    placed = gathered(engine).steps
    rows = [str(one.row) for one in placed if one.row]
    assert len(rows) > 200
    assert [row for row in rows if row.endswith(".")] == []
    assert [str(one.row) for one in placed if one.row and one.row == one.step.do] == []
    count = Counter(name for one in placed for name in one.step.tightens if one.step.again)
    assert count["axle-sprocket-nuts"] == 1
    assert set(count.values()) == {1}
    looks = Counter(one.step.look.id for one in placed if one.step.look)
    assert looks["plug-cap-holds"] == sum("spark-plug-cap" in one.step.tightens for one in placed)


def torn(pdf: bytes, html: str) -> list[str]:
    """The units of a sign-off sheet's boxes that do not stand on the paper in one piece."""
    wanted = Counter(re.findall(r'class="unit"[^>]*>([^<]+)<', html))
    with pymupdf.open(stream=pdf) as document:
        found = Counter(word[4] for page in document for word in page.get_text("words"))
    return [unit for unit, count in wanted.items() if found[unit] < count]


@pytest.mark.slow
def test_no_unit_is_torn() -> None:
    folder = club()
    own, record = folder.club.value, folder.engines["042"]
    names = [one.procedure for one in folder.for_model(folder.models["larch-125w"].value)]
    jobs = [resolve(folder, record, folder.procedures[name], ON) for name in names]
    units = 0
    for job in (visit_job(folder, record, gathered("042"), ON), *jobs):
        page = signoff(job, own)
        done = press(order("sign-off", page, job, own.club, forms=True))
        assert done.pressed is not None
        assert torn(done.pressed.pdf, page.html) == [], job.instructions.procedure
        units += page.html.count('class="unit"')
    assert units > 100


def test_each_job_asks_for_three_closing_checks() -> None:
    """But where its model has no more (winter storage without a battery), and on the one face of the plug's sheet."""
    folder = club()
    fewer = []
    for engine in ENGINES.values():
        record = folder.engines[engine]
        for one in folder.for_model(folder.models[record.engine.model].value):
            told = resolve(folder, record, folder.procedures[one.procedure], ON).instructions
            fewer += [(engine, one.code, len(told.closing))] if len(told.closing) != 3 else []
    assert [one for one in fewer if one[1:] != ("PLU", 2)] == [("021", "WIN", 2)]
    assert len(fewer) == 1 + len(ENGINES)
