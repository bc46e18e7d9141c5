"""What the rule about coarse gauges says beyond its page: sets of wires, and what wears."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.proof.pages import club_with, findings

MODEL = """\
model: small
title: Small engine
manual: Small workshop sheet
equipment: [dry-clutch]
parts: {rotor: {}}
fasteners: {}
limits:
  gap: {%s}
"""


def said(tmp_path: Path, limit: str) -> list[str]:
    club = (Path("docs/rules/example-club/club.yaml").read_text("utf-8")).replace(
        "gauges:\n", "gauges:\n  wires: {name: Wires, wires: true, range: 0.40..1.00 mm, reads: 0.05 mm}\n"
    )
    root = club_with(tmp_path / "club", {"models/small.yaml": MODEL % limit, "club.yaml": club})
    return [problem.message for problem in findings(root, None, None) if problem.name == "gauge-too-coarse"]


@pytest.mark.parametrize(
    ("limit", "message"),
    [
        ("gauge: wires, allow: 0.50..0.60 mm", None),
        ("gauge: wires, allow: 0.56..0.64 mm",
         "gap, 0.56..0.64 mm, cannot be decided with wires: no two of its wires, 0.05 mm from one to the next, lie"
         " within it"),
        # A new part and a worn one differ by no more than the gauge's uncertainty.
        ("gauge: caliper, of: rotor, wears: down, new: 1.98..2.00 mm, allow: 1.95..2.00 mm",
         "gap, 1.95..2.00 mm, cannot be decided with caliper: its uncertainty of 0.03 mm, taken off what a part may"
         " wear, 1.95..1.98 mm, leaves nothing to accept"),
        ("gauge: caliper, of: rotor, wears: down, new: 1.99..2.00 mm, allow: 1.95..2.00 mm", None),
        ("gauge: caliper, new: 1.99..2.00 mm, allow: 1.95..2.00 mm",
         "gap, 1.95..2.00 mm, cannot be decided with caliper: its uncertainty of 0.03 mm, taken off both ends, leaves"
         " nothing to accept"),
        # One-sided limits are drawn in at their one end only.
        ("gauge: caliper, allow: <= 0.05 mm", None),
        ("gauge: caliper, allow: >= 0.05 mm", None),
        ("gauge: caliper, allow: <= 0.03 mm",
         "gap, <= 0.03 mm, cannot be decided with caliper: its uncertainty of 0.03 mm, taken off <= 0.03 mm, leaves"
         " nothing to accept"),
        ("gauge: feelers, of: rotor, wears: up, new: <= 0.10 mm, allow: <= 0.15 mm",
         "gap, <= 0.15 mm, cannot be decided with feelers: its steps are 0.05 mm"),
    ],
)  # fmt: skip
def test_gauge_too_coarse(tmp_path: Path, limit: str, message: str | None) -> None:
    assert said(tmp_path, limit) == ([message] if message else [])


@pytest.mark.parametrize(
    ("limit", "others", "told"),
    [
        # Wrong by ten: the figure is named, the gauge is not to blame.
        ("gauge: caliper, allow: 0.020..0.050 mm", "gauge: caliper, allow: 0.20..0.50 mm", ["limit-unlike-others"]),
        ("gauge: caliper, new: 0.20..0.30 mm, allow: 0.020..0.050 mm", "", ["limits-contradict"]),
        ("gauge: feelers, new: 0.20..0.30 mm, allow: 0.020..0.050 mm", "",
         ["gauge-does-not-span", "limits-contradict"]),
        # Such limits are alike everywhere, or the figure is said to be true: then it is the gauge.
        ("gauge: caliper, allow: 0.020..0.050 mm", "gauge: caliper, allow: 0.02..0.09 mm", ["gauge-too-coarse"]),
        ("gauge: caliper, allow: 0.020..0.050 mm, silences: {limit-unlike-others: Lapped in pairs.}",
         "gauge: caliper, allow: 0.20..0.50 mm", ["gauge-too-coarse", "limit-unlike-others"]),
        # A range beyond the gauge, with no figure that would be within, names the gauge; its steps are no better.
        ("gauge: feelers, new: 1.11..1.12 mm, allow: 1.11..1.14 mm", "", ["gauge-does-not-span", "gauge-too-coarse"]),
    ],
)  # fmt: skip
def test_a_limit_out_of_the_usual_is_no_fault_of_the_gauge(
    tmp_path: Path, limit: str, others: str, told: list[str]
) -> None:
    names = ("first", "second") if others else ()
    files = {f"models/{name}.yaml": (MODEL % others).replace("model: small", f"model: {name}") for name in names}
    root = club_with(tmp_path / "club", {"models/small.yaml": MODEL % limit, **files})
    found = [problem for problem in findings(root, None, None) if problem.path == "models/small.yaml"]
    assert sorted(problem.name for problem in found) == told


def test_a_set_of_wires_says_its_sizes(tmp_path: Path) -> None:
    club = (Path("docs/rules/example-club/club.yaml").read_text("utf-8")).replace(
        "gauges:\n", "gauges:\n  wires: {name: Wires, wires: true, range: '>= 0.40 mm', reads: 0.05 mm}\n"
    )
    found = findings(club_with(tmp_path / "club", {"club.yaml": club}), None, None)
    assert [(problem.name, problem.message, problem.hint) for problem in found] == [
        (
            "wires-unknown",
            "a set of wires needs its smallest, its largest and the step between",
            "write range: 0.40..1.00 mm and reads: 0.05 mm",
        )
    ]
