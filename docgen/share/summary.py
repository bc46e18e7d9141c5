"""What a parcel would change, in a mechanic's words; what changes a number or a safety matter has a mark of its own."""

from collections.abc import Iterable, Iterator
from textwrap import dedent

from docgen.club.problem import visible
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.teaching import TeachingPage
from docgen.club.uses import applies
from docgen.job.wording import interval
from docgen.share.changes import NOUNS
from docgen.share.differences import LONGEST, clipped, difference_lines
from docgen.share.intake import Intake, beside_file
from docgen.share.merge import Conflict
from docgen.share.needs import Shared, steps_of
from docgen.share.offer import TAKEN, Offer, Verdict
from docgen.share.pack import SharedRead
from docgen.share.parcel import Parcel
from docgen.share.shelf import said

MARKS = ("SAFETY ", "NUMBER ")
"""How the lines begin that are to be looked at."""
MOST_NAMES = 8
"""Most names given of what changes nothing."""
_HEADS: dict[Verdict, str] = {
    "new": "NEW: you have none of that name",
    "aside": "LEFT OUT: an engine type that you have not",
    "newer": "NEWER: you have it as it was before, and get theirs",
    "both": "CHANGED BY BOTH, in different places: you get theirs with your own changes in it",
    "ahead": "YOURS HAS ALL OF IT, and changes of your own: it stays",
    "conflict": "CHANGED BY BOTH IN THE SAME PLACE: yours stays as it is until you settle it",
    "held": "WAITS FOR ITS JOB: it comes once you have settled what becomes of that",
    "stranger": "ANOTHER ONE OF THAT NAME: yours did not come from theirs, and stays",
    "gone": "TAKEN AWAY HERE: you had it once, and do not get it again",
    "mine": "SETTLED: yours stays as it is",
    "theirs": "SETTLED: theirs takes the place of yours",
}


BACK = "AN EARLIER REVISION THAN YOURS, though it came after: you get theirs in the place of yours"
"""Stands in the place of NEWER where the number goes back."""


def summary_lines(parcel: Parcel, intake: Intake, models: Iterable[Model], language: str) -> Iterator[str]:
    """What taking the parcel in would change, line by line; nothing in it that a terminal would obey.

    models, language : the club's own
    """
    for line in _told(parcel, intake, list(models), language):
        yield visible(line)


def _told(parcel: Parcel, intake: Intake, models: list[Model], language: str) -> Iterator[str]:
    yield f"A parcel from {parcel.sender}, by its own account; nothing proves who packed it."
    for offer in sorted(intake.offers, key=_order):
        if offer.verdict in _HEADS:
            yield ""
            yield from _offer(offer, models, intake.fits.get(offer.name, ()))
            yield from _language(offer, parcel, language)
    for register, entries in intake.shelf.items():
        yield ""
        yield f"Your {register} in club.yaml get what these jobs name; have it before you do them:"
        for name, entry in entries.items():
            yield f"    {name}  {clipped(said(entry.get('name') if isinstance(entry, dict) else None))}"
    if intake.unlike:
        yield ""
        yield "Of these, both clubs have one and mean another thing; yours stays, and the jobs will use it:"
        for one in intake.unlike:
            yield f"  SAFETY  {one.name}: {one.key}, yours {clipped(one.ours)}; theirs {clipped(one.theirs)}"
    yield from _records(intake)
    yield from _rest(intake)
    if intake.unlike or any(change.number or change.safety for offer in intake.offers for change in offer.brought):
        yield ""
        yield "Look at each NUMBER that is not what it was, and each matter of SAFETY, before you agree."


def _language(offer: Offer, parcel: Parcel, language: str) -> Iterator[str]:
    data = offer.theirs.document.data
    if offer.verdict in TAKEN and parcel.language != language and isinstance(data, dict) and "language" not in data:
        yield f"    Its text is probably in another language ({clipped(parcel.language, 20)}); it names none."


def _order(offer: Offer) -> tuple[int, int, str]:
    return list(_HEADS).index(offer.verdict) if offer.verdict in _HEADS else 99, _rank(offer.theirs.value), offer.path


def _offer(offer: Offer, models: list[Model], fits: tuple[str, ...]) -> Iterator[str]:
    yield BACK if _goes_back(offer) else _HEADS[offer.verdict]
    title = f'"{clipped(offer.theirs.value.title)}"'
    yield f"  {_kind(offer.theirs.value)} {offer.name}, {title}{_revisions(offer)}"
    told_of = offer.verdict in ("new", "stranger", "aside")
    yield from (f"    {line}" for line in _about(offer.theirs, models, fits) if told_of)
    yield from (f"    {line}" for line in fits[1:] if not told_of)
    against = ("stranger", "newer", "theirs")
    since = "against yours" if offer.verdict in against else "since you both had the same"
    if offer.brought:
        yield f"    What they changed {since}:"
        yield from (f"    {line}" for change in offer.brought for line in difference_lines(change, LONGEST))
    if offer.own:
        yield "    What you changed yourself:"
        yield from (f"    {line}" for change in offer.own for line in difference_lines(change, LONGEST))
    for conflict in offer.conflicts:
        yield from (f"    {line}" for line in _conflict(conflict))
    if offer.verdict in ("conflict", "stranger"):
        yield f"    Theirs will lie beside yours, as {beside_file(offer)}."
        yield f"    Work into yours what you want of it, then give the command again with  --keep {offer.name};"
        yield f"    or, to take theirs in place of yours, with  --take {offer.name}."
    if offer.verdict == "aside":
        yield f"    --take {offer.name}  takes it in too."
    if offer.verdict == "gone":
        yield f"    --take {offer.name}  takes it again;  --keep {offer.name}  says that it stays away."


def _conflict(conflict: Conflict) -> Iterator[str]:
    """What both changed, as it stands in each text."""
    yield f"Both changed{f' it, and together it cannot be read: {conflict.why}' if conflict.why else ':'}"
    for who, rows in (("before", conflict.base), ("yours", conflict.ours), ("theirs", conflict.theirs)):
        if not conflict.why:
            lines = [clipped(line) for row in rows for line in dedent(row).splitlines()]
            yield f"  {who}:" + ("" if lines else " nothing")
            yield from (f"    {line}" for line in lines)


def _about(read: SharedRead, models: list[Model], fits: tuple[str, ...]) -> Iterator[str]:
    value: Shared = read.value
    if isinstance(value, TeachingPage):
        count = len(value.paragraphs)
        yield f"printed at the front of the job's reading; {count} paragraph{'' if count == 1 else 's'}"
        return
    if isinstance(value, Model):
        counts = ((len(getattr(value, group)), NOUNS[group]) for group in ("parts", "fasteners", "limits", "settings"))
        held = ", ".join(f"{count} {noun}{'' if count == 1 else 's'}" for count, noun in counts if count)
        yield f"manual: {clipped(value.manual)}; {held}"
        return
    by = clipped(value.author) if value.author else "nobody named"
    yield f"by {by}, licence: {clipped(value.licence) if value.licence else 'none named'}; {len(steps_of(value))} steps"
    if isinstance(value, Procedure):
        yield from fits or (f"fits of your engine types: {', '.join(_applying(value, models)) or 'none'}",)
        yield from [interval(value.every)] if value.every else []


def _applying(job: Procedure, models: list[Model]) -> list[str]:
    return [model.model for model in models if applies(job, model)]


def _kind(value: Shared) -> str:
    return ("job", "page of", "sequence", "engine type")[_rank(value)]


def _rank(value: Shared) -> int:
    return next(rank for rank, kind in enumerate((Procedure, TeachingPage, Sequence, Model)) if isinstance(value, kind))


def _goes_back(offer: Offer) -> bool:
    """Whether what came after this club's version bears an earlier revision."""
    theirs, ours = offer.theirs.value, offer.ours.value if offer.ours else None
    numbered = isinstance(theirs, Procedure | Sequence) and isinstance(ours, Procedure | Sequence)
    return offer.verdict == "newer" and numbered and theirs.revision < ours.revision  # type: ignore[union-attr]


def _revisions(offer: Offer) -> str:
    """``, revision 3 -> 4``; says so where the text changed and the revision did not."""
    theirs, ours = offer.theirs.value, offer.ours.value if offer.ours else None
    if isinstance(theirs, (Model, TeachingPage)):
        return ""
    if ours is None or isinstance(ours, (Model, TeachingPage)):
        return f", revision {theirs.revision} of {theirs.dated}"
    if offer.verdict == "newer" and theirs.revision <= ours.revision:
        return f", revision {ours.revision} -> {theirs.revision}, though its text is another: ask the sender"
    to = theirs.revision if offer.data is None else offer.data.get("revision")
    return f", revision {ours.revision} -> {to}" if offer.data else f", yours revision {ours.revision}, theirs {to}"


def _records(intake: Intake) -> Iterator[str]:
    numbers = sorted({path.split("/")[1] for path in intake.records})
    for number in numbers:
        count = sum(path.startswith(f"engines/{number}/") for path in intake.records)
        yield ""
        yield f"The record of engine {number}: {count} files that are not here yet"


def _rest(intake: Intake) -> Iterator[str]:
    for verdict, head in (("same", "As you have it already"), ("known", "You had this before, and have gone on since")):
        names = [one.called for one in intake.offers if one.verdict == verdict]
        if names:
            yield ""
            more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
            yield f"{head}: {', '.join(names[:MOST_NAMES])}{more}"
