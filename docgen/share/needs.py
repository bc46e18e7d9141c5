"""What a shared file needs beside itself: sequences, jobs that it calls for, and entries of the registers."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from docgen.club.folder import Folder
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence, Step
from docgen.club.schema.refers import references
from docgen.club.teaching import TeachingPage, page_beside
from docgen.club.yamldoc import Data

Shared = Procedure | Sequence | Model | TeachingPage


def steps_of(shared: Shared) -> tuple[Step, ...]:
    """Every step that is written in the file."""
    if isinstance(shared, Procedure):
        return tuple(step for stage in shared.stages for step in stage.steps)
    return shared.steps if isinstance(shared, Sequence) else ()


def files_needed(shared: Shared) -> tuple[str, ...]:
    """What this file needs: sequences it uses, jobs it calls for, covers, gathers or gives intervals of; its page."""
    found = [one for one in references(shared) if one.what in ("procedure", "sequence")]
    names = [one.name for one in sorted(found, key=lambda one: one.loc[0] in ("covers", "gathers"))]
    page = (page_beside(shared.procedure),) if isinstance(shared, Procedure) else ()
    return (*dict.fromkeys(f"procedures/{name}.yaml" for name in names), *page)


def with_all_needed(chosen: Iterable[str], files: Mapping[str, Shared]) -> dict[str, str]:
    """Each chosen path and all that it needs, with the path that it was needed by first; empty for the chosen ones."""
    found = dict.fromkeys(chosen, "")
    waiting = list(found)
    for path in waiting:
        for needed in files_needed(files[path]):
            if needed in files and needed not in found:
                found[needed] = path
                waiting.append(needed)
    return found


def register_names(shared: Shared) -> Iterator[tuple[str, str]]:
    """Register (``tools``, ``gauges``, ``materials``) and name of everything that the file names there."""
    return ((register, one.name) for one in references(shared) for register in one.registers)


def entries(folder: Folder, register: str) -> dict[str, Data]:
    """A register of club.yaml as it stands there."""
    data = folder.club.document.data
    found = data.get(register) if isinstance(data, dict) else None
    return found if isinstance(found, dict) else {}


def chosen_entries(
    folder: Folder, names: Collection[tuple[str, str]], private: Mapping[str, Collection[str]]
) -> dict[str, dict[str, Data]]:
    """The entries of these registers and names, without the keys that are the club's own affair, by register."""
    return {
        register: {
            name: {key: value for key, value in entry.items() if key not in own}
            for name, entry in entries(folder, register).items()
            if (register, name) in names and isinstance(entry, dict)
        }
        for register, own in private.items()
    }
