"""What was last released: `procedures/RELEASED`, one line a file, `sha256  name  revision`, written by the program.

The digest (docgen.club.content) is over the file's data and not its bytes: a comment or a line end changes nothing.
"""

import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.problem import Problem

FILE = "procedures/RELEASED"
_LINE = re.compile(r"(?P<digest>[0-9a-f]{64})  (?P<name>[a-z0-9-]+)  (?P<revision>\d{1,6})")


@dataclass(frozen=True)
class Release:
    """One released revision of one procedure or sequence."""

    name: str
    revision: int
    digest: str

    def __str__(self) -> str:
        return f"{self.digest}  {self.name}  {self.revision}"


def parse_released(text: str) -> tuple[dict[str, Release], list[Problem]]:
    """The releases by name, and a problem for each line that is none."""
    found: dict[str, Release] = {}
    problems = []
    for number, line in enumerate(text.splitlines(), 1):
        match = _LINE.fullmatch(line.rstrip())
        if match:
            found[match["name"]] = Release(match["name"], int(match["revision"]), match["digest"])
        elif line.strip():
            problems.append(
                Problem(FILE, number, 1, "not-a-release", "this line is not a release",
                        "it is written by docgen release: bring the last good version of this file back", line)
            )  # fmt: skip
    return found, problems


def read_released(root: Path) -> tuple[dict[str, Release], list[Problem]]:
    """The releases of a club folder; none when it has released nothing. What cannot be read is a problem."""
    path = root / FILE
    if not os.path.lexists(path):
        return {}, []
    try:
        return parse_released(bounded(path).decode("utf-8-sig"))
    except OSError as error:
        message, hint = f"this file cannot be read: {error.strerror}", "check that it is a file, and bring it back"
    except UnicodeDecodeError:
        message, hint = "this file is not UTF-8 text: it was saved in another encoding", (
            "save it again with the encoding UTF-8; it is written by docgen release")  # fmt: skip
    return {}, [Problem(FILE, 0, 0, "unreadable-file", message, hint)]


def released_text(releases: Mapping[str, Release], new: Iterable[Release]) -> str:
    """The file with some releases added or replaced, in the order of the names."""
    together = {**releases, **{one.name: one for one in new}}
    return "".join(f"{together[name]}\n" for name in sorted(together))
