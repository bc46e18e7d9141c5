"""A text says how long the work takes, and the steps add up to something else."""

import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from docgen.job.timing import timing_of
from docgen.proof.case import Case, Finding, Findings
from docgen.proof.figures import numbers
from docgen.proof.words import english

TOLERANCE = Fraction(1, 4)
"""How far a time in words may be off, as a part of the computed time (our choice: words are round)."""
_NUMBERS: dict[str, str | Decimal] = {"a quarter of an": "1/4", "a": "1", "an": "1", **numbers("en")}
_MINUTES = {"min": 1, "minute": 1, "minutes": 1, "h": 60, "hour": 60, "hours": 60, "day": 1440, "days": 1440}
_TIME = re.compile(
    rf"(?P<before>\b[a-z]+ )?\b(?P<count>\d+(?:\.\d+)?|{'|'.join(sorted(_NUMBERS, key=len, reverse=True))})"
    rf"[ -](?P<unit>{'|'.join(sorted(_MINUTES, key=len, reverse=True))})\b(?P<after> [a-z]+)?",
    re.IGNORECASE,
)
_OTHER_BEFORE = ("every", "each", "within", "after", "once", "twice", "times", "per", "last", "next", "first")
_OTHER_AFTER = ("ago", "old", "later", "of", "before", "after")
"""Words that make a time one of something else: `every five hours`, `an hour ago`, `ten hours of running`."""


def on_run(case: Case) -> Findings:
    """One finding at the purpose, the title, or the reason of a wait."""
    yield from _of_the_job(case)
    for index, step in case.steps:
        if step.wait is None:
            continue
        exact = step.wait.for_.exactly("min")
        for keys, text in ((("why",), step.why), (("wait", "why"), step.wait.why)):
            for said, minutes in times(english(text)):
                if _off(minutes, exact):
                    yield case.finding(index, keys, f"the text says '{said}', but the wait is {step.wait.for_}",
                                       "leave the time out: the sheet prints it beside the wait")  # fmt: skip


def _of_the_job(case: Case) -> Findings:
    procedure, steps = case.procedure.value, [step for _, step in case.steps]
    timing = timing_of(steps, case.figures)
    whole = all(step.takes is not None or step.wait is not None for step in steps)
    for key in ("title", "purpose"):
        for said, minutes in times(english(getattr(procedure, key))):
            total = timing.work_minutes + timing.wait_minutes
            short = not whole and minutes > total  # where steps give no time, the work may well take longer
            if total and not short and _off(minutes, timing.work_minutes) and _off(minutes, total):
                waits = f", and {timing.wait_minutes} min of waits" if timing.wait_minutes else ""
                yield Finding(case.procedure.document, (key,),
                              f"the {key} says '{said}', but the steps take {timing.work_minutes} min{waits}",
                              "leave the time out: the head of the sheet prints what the steps add up to")  # fmt: skip


def _off(said: Fraction, computed: Fraction | int) -> bool:
    return abs(said - computed) > TOLERANCE * computed


def times(text: str) -> Iterator[tuple[str, Fraction]]:
    """The times that a text gives for its own work, as written and in minutes.

    >>> list(times("Twenty minutes, every five hours; it worked an hour ago."))
    [('Twenty minutes', Fraction(20, 1))]
    """
    for found in _TIME.finditer(text):
        before, after = ((found[key] or "").strip().lower() for key in ("before", "after"))
        if before in _OTHER_BEFORE or after in _OTHER_AFTER:
            continue
        count = found["count"].lower()
        minutes = Fraction(_NUMBERS.get(count, count)) * _MINUTES[found["unit"].lower()]
        yield text[found.start("count") : found.end("unit")], minutes
