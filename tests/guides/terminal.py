"""A command typed at a terminal of its own: what it asks, what is answered, how many keys that takes."""

from __future__ import annotations

import os
import pty
import re
import select
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 60.0
"""Seconds after which a command that neither asks nor ends is given up."""
_CONTROL = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
_WRITTEN_OVER = re.compile(r"[^\n]*\r(?!\n)")


@dataclass
class Typed:
    """One command: its words, what stood on the screen, and what was typed in answer to what.

    keys : keys typed in answers, Enter among them
    """

    words: tuple[str, ...]
    raw: str = ""
    answers: list[tuple[str, str]] = field(default_factory=list)
    ended: int = 0

    @property
    def screen(self) -> str:
        """What stands on the screen, without what was written over."""
        return _WRITTEN_OVER.sub("", _CONTROL.sub("", self.raw).replace("\r\n", "\n"))

    @property
    def prompts(self) -> int:
        """Questions that were answered."""
        return len(self.answers)

    @property
    def keys(self) -> int:
        """Keys that the answers took, Enter among them."""
        return sum(len(text) + 1 for _, text in self.answers)


def typed(folder: Path, words: Sequence[str], answers: Sequence[tuple[str, str]] = ()) -> Typed:
    """Type a command in a folder, and answer each question by what stands before its end; wait until it ends."""
    ours, theirs = pty.openpty()
    plain = {name: value for name, value in os.environ.items() if not name.startswith(("DOCGEN", "LC_", "LANG"))}
    env = plain | {"LC_ALL": "C.UTF-8", "TERM": "dumb", "COLUMNS": "200", "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        [sys.executable, "-m", "docgen", *words], cwd=folder, env=env, stdin=theirs, stdout=theirs, stderr=theirs,
        start_new_session=True,
    ) as running:  # fmt: skip
        os.close(theirs)
        one = Typed(tuple(words))
        try:
            _converse(ours, one, list(answers))
        except BaseException:
            running.kill()
            raise
        finally:
            os.close(ours)
        one.ended = running.wait(PATIENCE)
    return one


def _converse(terminal: int, one: Typed, waiting: list[tuple[str, str]]) -> None:
    """Read until the end, answering the questions in their order."""
    since, until = 0, time.monotonic() + PATIENCE
    while True:
        if waiting and waiting[0][0] in one.screen[since:] and one.screen.endswith((": ", "] ", "  ")):
            question, answer = waiting.pop(0)
            one.answers.append((question, answer))
            since = len(one.screen)
            os.write(terminal, f"{answer}\n".encode())
        ready, _, _ = select.select([terminal], [], [], 0.2)
        if ready:
            try:
                data = os.read(terminal, 65536)
            except OSError:  # the other side of the terminal is closed: the command ended
                data = b""
            if not data:
                break
            one.raw += data.decode()
        elif time.monotonic() > until:
            raise AssertionError(f"waiting for {waiting[:1]} after:\n{one.screen}")
    assert not waiting, f"never asked: {waiting}\n{one.screen}"
