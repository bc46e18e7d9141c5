"""What the sign-off sheet's tables are made from: the job's marks with their field names, and the parts of a row."""

from collections import Counter
from collections.abc import Iterator
from typing import TypeVar

from docgen.club.frozen import Frozen
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.figure import Figure
from docgen.job.job import Instructions, Issue, Job, JobStep
from docgen.sheets.figures import capital, figure, origin_tag, standing
from docgen.sheets.tables import Told

M = TypeVar("M", bound=Frozen)


def told_value(value: Figure, words: Words, *notes: str, own: bool = False) -> Told:
    """A value with where it came from, when that is not the maker; how an estimate was made is in the reading."""
    if value.blank:
        return Told(notes=(words("see the maker’s manual"),))
    more = standing(value, words) if value.origin in ("deviation", "club") else ""
    own = own or value.origin == "deviation"
    notes = (*notes, more) if more else notes
    return Told(capital(figure(value, words)), notes, value.band is not None, origin_tag(value, words), own)


def keyed(steps: tuple[JobStep, ...]) -> Iterator[tuple[JobStep, m.Mark, str]]:
    """Each mark with the key of its row: its own, and from its second time on with -2, -3 behind it.

    A part that a job fits twice has two rows; a part that several checks may call for has one, at the first of them.
    """
    seen: Counter[str] = Counter()
    for step in steps:
        for mark in step.marks:
            key = getattr(mark, "key", "")
            if not key:
                continue
            seen[key] += 1
            if seen[key] > 1:
                if isinstance(mark, m.RenewMark) and mark.if_needed:
                    continue
                key = f"{key}-{seen[key]}"
            yield step, mark.model_copy(update={"key": key}), key


def marked(told: Instructions, *kinds: type[M]) -> Iterator[tuple[JobStep, M]]:
    """The marks of some kinds in a job, each with its step and under the key of its row."""
    return ((step, mark) for step, mark, _ in keyed(told.steps) if isinstance(mark, kinds))


def expected(told: Instructions) -> Iterator[tuple[JobStep, m.RenewMark]]:
    """The parts that the job renews whatever its checks find."""
    return ((step, mark) for step, mark in marked(told, m.RenewMark) if not mark.if_needed)


def looked_at(told: Instructions) -> Iterator[tuple[JobStep, m.LookMark | m.OrientationMark]]:
    """What one tick covers: all looks and ways round but those that are signed one by one before the release."""
    closing = {check.key for check in told.closing}
    for step, mark, key in keyed(told.steps):
        if isinstance(mark, (m.LookMark, m.OrientationMark)) and key not in closing:
            yield step, mark


def touched(told: Instructions) -> frozenset[str]:
    """The items that the job's rows speak of, by name."""
    return frozenset(
        getattr(mark, name).partition("/")[0]
        for step in told.steps
        for mark in step.marks
        for name in ("item", "limit", "setting")
        if hasattr(mark, name)
    )


def asks_second(told: Instructions) -> bool:
    """Whether a second person may have to sign: where the job has a hold point."""
    return any(isinstance(mark, m.HoldMark) for step in told.steps for mark in step.marks)


class Entries:
    """One job's marks, and the columns that its tables share."""

    def __init__(self, job: Job, words: Words) -> None:
        self.told, self.issue, self.w = job.instructions, job.issue, words
        digits = max((len(step.called) for step in job.instructions.steps), default=1)
        self.step = (words("Row"), max(10, 4 + 2.6 * digits))
        self.deviated = frozenset(one.item for one in job.instructions.deviations)


def entry_texts(issue: Issue, words: Words) -> tuple[tuple[str, str], ...]:
    """Label and text of what the record says of the engine on the day of printing."""
    done = issue.last_done
    last = words("{day} at {hours}", day=done.on.isoformat(), hours=figure(done.hours, words)) if done else ""
    hours = figure(issue.hours, words) if issue.hours else ""
    if issue.since_began:  # they count from the beginning of its record only
        hours = words("{hours} since the record began", hours=hours)
    told = ((words("Keeper"), issue.keeper), (words("Hours on record"), hours), (words("Last done"), last))
    return tuple((label, text) for label, text in told if text)
