"""Whose words a job is printed in: what this club changed in a procedure that came from another club."""

from collections.abc import Sequence as Many

from docgen.club.folder import Folder, Read
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.words import Words, message
from docgen.club.yamldoc import Data, Loc
from docgen.job.expand import PlacedStep, expand, used

MOST = 8
"""Most steps that are named; where the club changed more, it is the whole job that is another."""


def adapted(folder: Folder, procedure: Read[Procedure], model: Model, w: Words) -> str:
    """What the sheet says of the club's own changes to what it received; empty where there are none.

    The procedure and the sequences that `model` gets are looked at, each against the last version of it that came from
    another club (``shared/origins.yaml``). Steps that are not as they came are named by their number on the sheet,
    where the text that came is still kept.
    """
    files: list[Read[Procedure] | Read[Sequence]] = [procedure]
    files += [folder.sequences[name] for name in used(procedure.value, model) if name in folder.sequences]
    placed = expand(procedure, folder.sequences, model)
    clubs: dict[str, list[str]] = {}
    for read in files:
        path = read.document.path
        came = folder.origins.received(path)
        if came is not None and path in folder.received:
            name = w("the job") if read is procedure else str(getattr(read.value, "sequence", ""))
            numbers = _changed(placed, path, folder.received[path])
            clubs.setdefault(str(came.from_), []).append(_with_steps(name, numbers, w))
    said = message("changed here since it came from {club}: {files}")
    return "; ".join(w(said, club=club, files=", ".join(names)) for club, names in clubs.items())


def _with_steps(name: str, numbers: Many[int], w: Words) -> str:
    if not 0 < len(numbers) <= MOST:
        return name
    form = message("{file} (step {steps})" if len(numbers) == 1 else "{file} (steps {steps})")
    return w(form, file=name, steps=", ".join(map(str, numbers)))


def _changed(placed: Many[PlacedStep], path: str, came: Data) -> list[int]:
    """The numbers of the steps of a file that did not come with it; none where nobody knows what came."""
    if not isinstance(came, dict):
        return []
    stages = came.get("stages") or [came]
    steps: list[Data] = []
    for stage in stages if isinstance(stages, list) else ():
        held = stage.get("steps") if isinstance(stage, dict) else None
        steps += held if isinstance(held, list) else []
    own = [(number, one) for number, one in enumerate(placed, 1) if one.document.path == path]
    return [number for number, one in own if _at(one.document.data, one.loc) not in steps]


def _at(data: Data, loc: Loc) -> Data:
    for part in loc:
        data = data[part]  # type: ignore[index]
    return data
