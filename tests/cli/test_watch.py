"""A page open beside the editor: laid out again at an edit, whatever the edit is; a draft is never a print."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pypdf
import pytest

from tests.smallclub import write

PATIENCE = 60.0
"""Seconds that a loaded machine may take; nothing is judged by it."""


def _breakable() -> None:
    """A break reaches the command, also where the tests themselves were started with breaks ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Watching:
    """`docgen watch` as it runs, with what it said."""

    def __init__(self, root: Path) -> None:
        self.root, self.said = root, root.parent / "said.txt"
        words = ["--club", str(root), "watch", "7A", "ROT", "--on", "2030-04-01"]
        call = f"import sys; from docgen.cli import main; sys.argv[1:] = {words!r}; main()"
        with self.said.open("w") as out:
            self.process = subprocess.Popen(
                [sys.executable, "-c", call], stdout=out, stderr=out, preexec_fn=_breakable
            )

    def until(self, condition: Callable[[str], bool]) -> str:
        """Wait for what is said."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            said = self.said.read_text("utf-8")
            if condition(said):
                return said
            assert self.process.poll() is None, said
            time.sleep(0.05)
        raise AssertionError(self.said.read_text("utf-8"))

    def leaf(self) -> str:
        """The words of the draft."""
        reader = pypdf.PdfReader(self.root / "out/watch/7A-ROT-leaf.pdf")
        return " ".join(page.extract_text() for page in reader.pages)


@pytest.fixture
def watching(tmp_path: Path) -> Iterator[Watching]:
    one = Watching(write(tmp_path / "club"))
    yield one
    if one.process.poll() is None:
        one.process.kill()
        one.process.wait()


@pytest.mark.skipif(os.name != "posix", reason="an interrupt is sent to a process as a signal")
def test_an_edit_is_laid_out_a_broken_one_is_told_and_an_interrupt_ends_it(watching: Watching) -> None:
    watching.until(lambda said: said.count("sign-off.pdf") == 1)
    path = watching.root / "procedures/rotor-service.yaml"
    text = path.read_text("utf-8")
    assert "title: Rotor" in text
    path.write_text(text.replace("title: Rotor", "title: Whirling rotor"), "utf-8")
    watching.until(lambda said: said.count("sign-off.pdf") == 2)
    assert "Whirling rotor" in watching.leaf()
    assert "7A-ROT-03-000-L1" in watching.leaf()
    path.write_text("procedure: [", "utf-8")
    said = watching.until(lambda said: "procedures/rotor-service.yaml" in said)
    assert said.count("sign-off.pdf") == 2
    assert "Whirling rotor" in watching.leaf()
    path.write_text(text, "utf-8")
    watching.until(lambda said: said.count("sign-off.pdf") == 3)
    assert "Whirling rotor" not in watching.leaf()
    watching.process.send_signal(signal.SIGINT)
    assert watching.process.wait(PATIENCE) == 0
    assert watching.said.read_text("utf-8").endswith("\nNo longer watching.\n")
    assert not (watching.root / "engines/7A/issued").exists()
