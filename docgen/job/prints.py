"""The history of an engine's prints: each frozen job bears its digest in its name, and names the prints before it.

``017-CLU-04-003-4cb500fc2c6f.yaml`` is print 3, with the first twelve digits of the SHA-256 of its bytes (line ends as
LF). Under ``after`` it names every print that no other names yet, with its whole digest. So a print that was edited,
exchanged, cut or taken away is found, once a later one names it; and two copies of the club's folder that both give the
number 003 keep both jobs, side by side. Files from before have no digest in their names, and are named like the others.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from docgen.club.files import read_bytes, yaml_files
from docgen.club.log import SHORT, digest
from docgen.club.problem import Problem

_NAME = re.compile(
    r"(?P<stem>(?P<job>[A-Z0-9]{1,6}-[A-Z]{3}-[0-9]{2,4})-(?P<print>[0-9]{3,5}))(-(?P<digest>[0-9a-f]{12}))?\.yaml"
)
_ISSUE = re.compile(rb"^issue_digest: ([0-9a-f]{64})\r?$", re.MULTILINE)
_AFTER = re.compile(rb"^after:\r?\n((?:  [A-Za-z0-9-]+: [0-9a-f]{64}\r?\n)+)", re.MULTILINE)
_ONE = re.compile(rb"  ([A-Za-z0-9-]+): ([0-9a-f]{64})")


@dataclass(frozen=True)
class Print:
    """The file of one frozen job, read when it is first asked for.

    path    : below `root`
    stem    : the sheet's number without its page: ``017-CLU-04-003``
    job     : the same without the print: ``017-CLU-04``
    written : the digits in its name; empty for a file from before these stood there
    """

    root: Path
    path: str
    stem: str
    job: str
    print: int
    written: str

    @cached_property
    def _read(self) -> bytes | Problem:
        return read_bytes(self.root, self.path)

    @property
    def problem(self) -> Problem | None:
        """Why it cannot be read; None where it can."""
        return self._read if isinstance(self._read, Problem) else None

    @property
    def data(self) -> bytes:
        """Its bytes as they are now; empty where it cannot be read."""
        return b"" if isinstance(self._read, Problem) else self._read

    @property
    def text(self) -> str:
        """Its text as it was written, whatever line ends it has now."""
        return self.data.decode("utf-8", "replace").replace("\r\n", "\n")

    @property
    def name(self) -> str:
        """Its file's name, without the ending."""
        return f"{self.stem}-{self.written}" if self.written else self.stem

    @cached_property
    def digest(self) -> str:
        """SHA-256 of its bytes as they are now."""
        return digest(self.data)

    @property
    def as_written(self) -> bool:
        """Whether its bytes are those that it was named after, as far as its name tells."""
        return self.digest.startswith(self.written)

    @property
    def issue(self) -> str:
        """The digest of the job as it says itself; empty where it says none."""
        found = _ISSUE.search(self.data)
        return found[1].decode() if found else ""

    @cached_property
    def after(self) -> dict[str, str]:
        """The prints that it names, by the names of their files: their digests."""
        found = _AFTER.search(self.data)
        return {name.decode(): digits.decode() for name, digits in _ONE.findall(found[1])} if found else {}


def prints(root: Path, base: str) -> list[Print]:
    """The frozen jobs in the folder `base` of the club at `root`, in the order of their names."""
    found = ((path, _NAME.fullmatch(path.rpartition("/")[2])) for path in yaml_files(root, base))
    return [
        Print(root, path, name["stem"], name["job"], int(name["print"]), name["digest"] or "")
        for path, name in found
        if name is not None
    ]


def numbered(found: Iterable[Print], stem: str) -> list[Print]:
    """The prints that bear a number; more than one where two copies of a folder gave it."""
    return [one for one in found if one.stem == stem]


def last_named(found: Iterable[Print]) -> dict[str, str]:
    """What the next print names: every print that none names, by the name of its file."""
    every = list(found)
    named = {name for one in every for name in one.after}
    return {one.name: one.digest for one in every if one.name not in named}


def history_problems(base: str, found: Iterable[Print]) -> Iterator[Problem]:
    """What was edited or exchanged, and what is not there although a later print names it; each once."""
    by_name = {one.name: one for one in found}
    named: dict[str, tuple[str, Print]] = {}
    for one in by_name.values():
        for name, digits in one.after.items():
            named.setdefault(name, (digits, one))
    for name, one in by_name.items():
        if one.problem is not None:
            yield one.problem
            continue
        wanted = named[name][0] if name in named else one.written
        if not one.digest.startswith(wanted) or not one.as_written:
            yield changed(one.path, one.stem)
    for name, (digits, later) in sorted(named.items()):
        if name not in by_name:
            message = f"the print {name} ({digits[:SHORT]}) is not there, though {later.name} followed it"
            yield Problem(f"{base}/{name}.yaml", 0, 0, "print-missing", message, "restore the file from a backup")


def changed(path: str, stem: str) -> Problem:
    """That a frozen job is not what its sheet was printed from."""
    message = f"this is not the job that {stem} was printed from: it was changed afterwards"
    return Problem(path, 0, 0, "print-changed", message, "restore the file from a backup; its sheets are judged by it")


def doubled(found: Iterable[Print]) -> Iterator[tuple[str, list[Print]]]:
    """The numbers that more than one job bears, each with its jobs: printed from two copies of the club's folder."""
    by_stem: dict[str, list[Print]] = {}
    for one in found:
        by_stem.setdefault(one.stem, []).append(one)
    yield from ((stem, each) for stem, each in by_stem.items() if len({one.issue for one in each}) > 1)
