"""A term that neither the glossary nor common speech knows: a first-year member stops reading there."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.yamldoc import Loc
from docgen.proof.case import Written
from docgen.proof.finding import Finding
from docgen.proof.vocabulary import unknown
from docgen.proof.words import english

LEVEL = "note"


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding for each term, where it first stands. A club without a glossary is not judged."""
    if file.vocabulary is None:
        return
    told: set[str] = set()
    for loc, text in _texts(file):
        for word in unknown(english(text), file.vocabulary):
            if word not in told:
                told.add(word)
                yield file.finding(
                    loc, f"'{word}' is neither in glossary.yaml nor in common speech",
                    "say it in common words, or explain it in glossary.yaml",
                )  # fmt: skip


def _texts(file: Written) -> Iterator[tuple[Loc, str | None]]:
    """What is read at the bench, each text with its place."""
    for i, message in enumerate(file.safety):
        yield from ((("safety", i, key), getattr(message, key)) for key in ("hazard", "consequence", "avoid"))
    for loc, step in file.steps:
        yield (*loc, "do"), step.do
        yield (*loc, "why"), step.why
        if step.look:
            yield (*loc, "look", "accept"), step.look.accept
        for key, check in (("look", step.look), ("measure", step.measure)):
            if check and check.fail:
                yield (*loc, key, "fail"), check.fail.do
        if step.hold:
            yield (*loc, "hold"), step.hold.why
        if step.wait:
            yield (*loc, "wait", "why"), step.wait.why
        if step.repeat:
            yield (*loc, "repeat"), step.repeat.until
