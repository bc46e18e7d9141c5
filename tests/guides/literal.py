"""A page of the documentation followed literally: its commands typed, its files written, its answers compared.

```console blocks hold commands behind a `$`, each with what it answers. A ```yaml block is written into the file that
the paragraph before it names, in one of three ways: in place of everything from a line to the end, at the end, or in
place of one line.
"""

from __future__ import annotations

import os
import re
import shlex
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

FENCE = re.compile(r"^```(console|yaml)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_FROM = r"In `(?P<path>[^`]+)`, put this in\s+place of everything from the line `(?P<line>[^`]+)` to the end:"
FROM_ON = re.compile(_FROM)
AT_END = re.compile(r"In `(?P<path>[^`]+)`, add at\s+the end:")
ONE_LINE = re.compile(r"In `(?P<path>[^`]+)`, write in\s+place of the line `(?P<line>[^`]+)`:")

Typed = Callable[[list[str]], str]
"""Types the words behind `docgen` and gives what it answers."""


def followed(page: str, folder: Path, typed: Typed, day: str) -> str:
    """The page with what docgen really answers, after following it in `folder`; today is written as its `day`."""
    here = folder
    pieces: list[str] = []
    end = 0
    for block in FENCE.finditer(page):
        pieces.append(page[end : block.start(2)])
        end = block.end(2)
        if block[1] == "yaml":
            _write(here, page[: block.start()].rstrip().split("\n\n")[-1], block[2])
            pieces.append(block[2])
            continue
        for command in _commands(block[2]):
            pieces.append(f"$ {command}\n")
            words = shlex.split(command)
            if words[0] == "cd":
                here = here / words[1]
                os.chdir(here)
            else:
                assert words[0] == "docgen", command
                pieces.append(typed(words[1:]).replace(f"{datetime.now().astimezone():%Y-%m-%d}", day))
    return "".join([*pieces, page[end:]])


def _commands(block: str) -> Iterator[str]:
    for line in block.splitlines():
        if line.startswith("$ "):
            yield line[2:]


def _write(folder: Path, paragraph: str, text: str) -> None:
    for form in (FROM_ON, AT_END, ONE_LINE):
        if found := form.search(paragraph):
            break
    else:
        raise AssertionError(f"this does not say where to write: {paragraph}")
    path = folder / found["path"]
    old = path.read_text("utf-8")
    if form is AT_END:
        path.write_text(old + text, "utf-8")
        return
    line = found["line"] + "\n"
    assert old.count("\n" + line) == 1, f"{path.name} has this line more than once, or not at all: {line}"
    before, _, after = old.partition("\n" + line)
    path.write_text(f"{before}\n{text}" + (after if form is ONE_LINE else ""), "utf-8")
