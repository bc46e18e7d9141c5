"""The small club of these trials: one engine type, two engines, one numbered rotor."""

from __future__ import annotations

from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.read import read_club

TEXTS = {
    "club.yaml": "club: Trial Club\nbench_distance: 600 mm\nhours_a_meeting: 1 h\n"
    "tools:\n  wrench-100: {name: Torque wrench 20 to 100, torque: 20..100 N.m, step: 1 N.m}\n",
    "models/willow-80.yaml": """\
model: willow-80
title: Willow 80
manual: Willow 80 workshop book
equipment: [rotor-drive]
parts:
  rotor: {held_by: [rotor-nut]}
fasteners:
  rotor-nut: {thread: M10x1.25, torque: 34 N.m +/- 10 %}
limits:
  rotor-gap: {allow: 0.20..0.45 mm}
settings:
  timing: {unit: mm, start: 1.8..2.0 mm, datum: before top dead centre}
""",
    "procedures/rotor-service.yaml": """\
procedure: rotor-service
title: Rotor - measure
code: ROT
revision: 3
dated: 2030-01-15
needs: [rotor-drive]
stages:
  - stage: Measure
    steps:
      - do: Measure the rotor gap.
        row: Measure the rotor gap
        measure: {of: rotor-gap, fail: {do: Fit another rotor.}}
""",
    "engines/7A/engine.yaml": "engine: 7A\nmodel: willow-80\nkeeper: A. Keeper\nreceived: 2029-03-01\nhours: 4 h\n"
    "components: {rotor: R-1}\n",
    "engines/8B/engine.yaml": "engine: 8B\nmodel: willow-80\nkeeper: B. Keeper\nreceived: 2029-03-01\nhours: 0 h\n",
}


def fresh(root: Path) -> Path:
    """The club, written into the new folder `root`."""
    for path, text in TEXTS.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text, "utf-8")
    return root


def read(root: Path) -> Folder:
    """The club as it stands."""
    return read_club(root)
