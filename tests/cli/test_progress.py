"""While sheets are printed, a terminal shows how many, how fast, and how long it will take; nothing else shows it."""

from __future__ import annotations

import io
import time

import click
import pytest

from docgen.cli import _printing as printing


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        """It is one."""
        return True


@pytest.mark.parametrize(("each", "rate"), [(0.25, "4.0 sheets a second"), (2.0, "30 sheets a minute")])
def test_rate_and_time_left_are_shown(monkeypatch: pytest.MonkeyPatch, each: float, rate: str) -> None:
    clock = [1000.0]
    monkeypatch.setattr(time, "time", lambda: clock[0])
    shown = Terminal()
    with printing.progress(40, shown) as bar:
        for _ in range(12):
            clock[0] += each
            bar.update(1, bar.time_per_iteration)
    last = click.unstyle(shown.getvalue()).split("\r")[-1]
    left = int(28 * each)
    assert f" 12/40  00:00:{left:02}  {rate}" in last


def test_nothing_is_shown_where_nobody_watches() -> None:
    shown = io.StringIO()
    with printing.progress(2, shown) as bar:
        bar.update(2, 1.0)
    assert shown.getvalue() == ""
