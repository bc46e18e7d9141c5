"""How far the jobs fit the engine types: what is a slip of the job's, and what an engine type still lacks."""

from collections.abc import Collection, Iterator

from docgen.club.content import content_digest
from docgen.club.folder import Folder
from docgen.club.problem import Problem, did_you_mean
from docgen.club.uses import Use, applies, places_of, uses
from docgen.club.yamldoc import Document

NOT_FITTING = "jobs-do-not-fit"
FEW = 8
"""Names that are given of one job where there are more."""

_WRONG_KIND = {
    "fasteners": '"{0}" is a part: parts are removed, fitted or renewed',
    "parts": '"{0}" is a fastener: fasteners are undone, started or tightened',
}



def fit_problems(folder: Folder) -> Iterator[Problem]:
    """A name that no engine type has is a slip of the job that the club wrote; for the rest, one note a type."""
    by_use, known = _by_use(folder), _known(folder)
    slips = {use for use in by_use if use not in known and not _is_anothers(folder, use.document)}
    for use in slips:
        yield _slip(folder, use, by_use[use])
    for name in sorted(folder.models):
        if note := not_fitting(folder, name, apart=slips):
            yield note


def fit_report(
    folder: Folder, model: str, only: Collection[str] = (), apart: Collection[Use] = ()
) -> list[tuple[str, int]]:
    """A line for each job (or those in `only`) that an engine type has the equipment for, and how many names it lacks.

    The fitting ones first: `CLU fits`, or `CLU lacks 3 names: hub-nut, shoe-lining, drum-bore`. Uses `apart` are not
    counted.
    """
    kind = folder.models[model].value
    found = []
    for name, read in sorted(folder.procedures.items()):
        if applies(read.value, kind) and (not only or name in only):
            uses_ = (use for use in folder.lacking.get((name, model), ()) if use not in apart)
            lacks = tuple(dict.fromkeys(use.name for use in uses_))
            told = lacks_names(lacks, len(lacks) if only else FEW) if lacks else "fits"
            found.append((f"{read.value.code} {told}", len(lacks)))
    return sorted(found, key=lambda one: one[1])


def not_fitting(
    folder: Folder, model: str, only: Collection[str] = (), apart: Collection[Use] = ()
) -> Problem | None:
    """The note about an engine type that lacks names of the jobs that its equipment asks for."""
    report = tuple(line for line, lacks in fit_report(folder, model, only, apart) if lacks)
    if not report:
        return None
    one = len(report) == 1
    what = "a job that its equipment asks for names" if one else f"{len(report)} jobs that its equipment asks for name"
    message = f"{what} what it has not, and {'is' if one else 'are'} left out for it"
    hint = "write the names in this file, or take away the word of equipment that asks for a job not wanted"
    document = folder.models[model].document
    return document.problem(("equipment",), NOT_FITTING, message, hint, key=True, level="note", trail=report)


def lacks_names(lacks: tuple[str, ...], most: int = FEW) -> str:
    """`lacks 3 names: hub-nut, shoe-lining, drum-bore`; of many, the first few."""
    told = ", ".join(lacks[:most]) + (f" and {len(lacks) - most} more" if len(lacks) > most else "")
    return f"lacks {len(lacks)} name{'' if len(lacks) == 1 else 's'}: {told}"


def _by_use(folder: Folder) -> dict[Use, list[str]]:
    """The engine types that lack it, by each use of a name that one of them lacks."""
    found: dict[Use, set[str]] = {}
    for (_, model), lacks in folder.lacking.items():
        for use in lacks:
            found.setdefault(use, set()).add(model)
    return {use: sorted(models) for use, models in found.items()}


def _known(folder: Folder) -> set[Use]:
    """The uses of names that at least one engine type defines, of the jobs in which a name is lacking somewhere."""
    found: set[Use] = set()
    for name in dict.fromkeys(job for job, _ in folder.lacking):
        read = folder.procedures[name]
        for model in (one.value for one in folder.models.values() if applies(read.value, one.value)):
            found |= set(uses(folder, read, model)) - set(folder.lacking.get((name, model.model), ()))
    return found


def _is_anothers(folder: Folder, document: Document) -> bool:
    """Whether a file stands as it came from another club."""
    came = folder.origins.received(document.path)
    return came is not None and came.digest == content_digest(document)


def _slip(folder: Folder, use: Use, lacking: list[str]) -> Problem:
    name = use.name.partition("/")[0]
    models = [folder.models[m].value for m in lacking]
    other = {"fasteners": "parts", "parts": "fasteners"}.get(use.where)
    if other and any(name in getattr(m, other) for m in models):
        return use.document.problem(
            use.loc, f"not-a-{use.where[:-1]}", _WRONG_KIND[use.where].format(name), key=use.key
        )
    what = {"items": "part-or-fastener", "anything": "value"}.get(use.where, use.where[:-1])
    if any(name in place for m in models for place in places_of(m, use.where)):
        return use.document.problem(use.loc, "no-such-member", f'"{use.name}" is more than {", ".join(lacking)} counts')
    known = {n for m in models for place in places_of(m, use.where) for n in place}
    message = f'no model that this job applies to has a {what} called "{name}"'
    return use.document.problem(use.loc, f"unknown-{what}", message, did_you_mean(name, known), key=use.key)
