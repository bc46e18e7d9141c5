"""The demo's own record is as it was written."""

from __future__ import annotations

import shutil
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.schema.event import Service
from docgen.job.readings import accepted
from docgen.plan.standing import standing
from tests.cli.record_club import say
from tests.conftest import ROOT
from tests.demo.conftest import ON


def test_every_log_of_the_demo_is_whole(tmp_path: Path) -> None:
    """Without the frozen jobs of trial prints, which are no part of the demo's record."""
    for name in ("club.yaml", "procedures", "models", "engines"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("issued", "signed", "drafts"))
        else:
            shutil.copy(ROOT / name, tmp_path)
    result = say(tmp_path, "verify")
    assert (result.exit_code, result.stderr) == (0, "")
    engines = sorted(path.name for path in (ROOT / "engines").iterdir())
    assert len(engines) > 5
    assert [line.partition(" ")[0] for line in result.stdout.splitlines()[: len(engines)]] == engines


def test_every_reading_in_the_demo_s_logs_is_one_that_a_sheet_accepts(demo: Folder) -> None:
    """By today's models and gauges, the guard band drawn in; a reading that is not would stand as a finding."""
    judged, refused = 0, []
    for number, record in demo.engines.items():
        figures = standing(demo, record, ON).figures
        for event in record.log.of(Service):
            for limit, values in event.readings.items():
                band, _ = accepted(figures, limit)
                assert band, limit
                judged += len(values)
                refused += [f"{number} {event.date} {limit}: {one}" for one in values if not band.contains(one)]
    assert judged > 500
    assert refused == []


def test_springs_are_told_apart_by_dots_in_the_demo_s_logs(demo: Folder) -> None:
    found = [
        str(value)
        for record in demo.engines.values()
        for event in record.log.of(Service)
        for setting in [event.settings.get("pop-off")]
        if setting
        for value in (setting.found, setting.left)
    ]
    assert len(found) > 15
    dots = (", spring one dot", ", spring two dots", ", spring three dots")
    assert [text for text in found if not text.endswith(dots)] == []
