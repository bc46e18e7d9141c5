"""What a rule finds, before it becomes a Problem with the rule's name; it loads nothing that finds."""

from collections.abc import Iterator
from dataclasses import dataclass

from docgen.club.problem import Level, Problem
from docgen.club.yamldoc import Document, Loc


@dataclass(frozen=True)
class Finding:
    """A fault at a place in a file, in words for a mechanic."""

    document: Document
    loc: Loc
    message: str
    hint: str = ""
    trail: tuple[str, ...] = ()
    key: bool = False

    def problem(self, name: str, level: Level = "error", trail: tuple[str, ...] = ()) -> Problem:
        """The finding as a Problem, with more lines of trail behind its own."""
        whole = (*self.trail, *trail)
        return self.document.problem(self.loc, name, self.message, self.hint, key=self.key, level=level, trail=whole)


Findings = Iterator[Finding]
