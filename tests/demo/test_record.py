"""The demo's own record is as it was written."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.cli.record_club import say
from tests.conftest import ROOT


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
