"""What a new club takes along from another one's folder: jobs and engine types as they are, and what these need."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from docgen.club.files import read_bytes
from docgen.club.folder import Folder
from docgen.club.problem import Problem
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Version
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.schema.published import editor_line
from docgen.club.schema.refers import references
from docgen.club.schema.sidefiles import Glossary
from docgen.club.teaching import TeachingPage
from docgen.club.uses import applies
from docgen.club.yamldoc import Data
from docgen.share.container import ParcelRefused
from docgen.share.needs import Shared, chosen_entries, register_names, with_all_needed
from docgen.share.pack import as_versions, shared_files

_INSIDE = Path(__file__).resolve().parents[1] / "shipped"
_BESIDE = Path(__file__).resolve().parents[2]


def shipped_folder() -> Path:
    """The folder of the club that they are from: inside the package when installed, the demo club in a checkout."""
    return _INSIDE if _INSIDE.is_dir() else _BESIDE


LEFT_AT_HOME = {
    "tools": ("calibrated_until",),
    "gauges": ("calibrated_until", "uncertainty"),
    "materials": ("price",),
}
"""What a register says of the very things on the other club's shelf, by register."""


@dataclass(frozen=True)
class Taken:
    """Files of another club as a new one gets them.

    files     : path and bytes, comments included, with the editor's line at the head
    registers : the entries that they need of each register
    equipment : words that the jobs use though none of the engine types has them
    texts     : each file as a version that is kept, so that the club's own changes can be told later
    origins   : where each file is from
    """

    files: Mapping[str, bytes]
    registers: Mapping[str, Mapping[str, Data]]
    equipment: tuple[str, ...]
    texts: Mapping[str, str]
    origins: Mapping[str, tuple[Version, ...]]


def taken_along(source: Folder, names: Collection[str]) -> Taken:
    """The engine types and procedures of these names, every job that fits one of the types, and all that they need.

    Errors: Refused ``faulty-file`` where one of them cannot be read.
    """
    reads = shared_files(source)
    values: dict[str, Shared] = {path: read.value for path, read in reads.items()}
    types = [read.value for name, read in source.models.items() if name in names]
    wanted = [
        path
        for path, one in values.items()
        if (isinstance(one, Model) and one in types)
        or (isinstance(one, Procedure) and (one.procedure in names or any(applies(one, model) for model in types)))
    ]
    chosen = sorted(with_all_needed(wanted, values))
    files = {path: _file(source, path, values[path]) for path in chosen}
    registers = _registers(source, [values[path] for path in chosen])
    texts, origins = as_versions(source, reads, chosen, source.club.value.club)
    spoken_of = {one.name for path in chosen for one in references(values[path]) if one.what == "equipment"}
    lacking = spoken_of - {word for model in types for word in model.equipment}
    return Taken(files, registers, tuple(sorted(lacking)), texts, origins)


def _file(source: Folder, path: str, of: Shared) -> bytes:
    data = read_bytes(source.root, path)
    if isinstance(data, Problem):
        raise ParcelRefused("faulty-file", f"{path} cannot be taken along: {data.message}", data.hint)
    return data if isinstance(of, TeachingPage) else with_editor_line(data, of)


def with_editor_line(data: bytes, of: Procedure | Sequence | Model | Glossary) -> bytes:
    """A file with the line by which an editor finds its schema, where it has none yet."""
    line = editor_line(type(of).__name__.lower()).encode()
    return data if data.startswith(b"# yaml-language-server:") else line + b"\n" + data


def _registers(source: Folder, shared: Iterable[Shared]) -> dict[str, dict[str, Data]]:
    """The entries that the files name, the tools that turn their fasteners, and the torque wrenches."""
    shared = list(shared)
    wanted = {name for one in shared for name in register_names(one)}
    wanted |= {("tools", name) for name in _turning(source, shared)}
    return chosen_entries(source, wanted, LEFT_AT_HOME)


def _turning(source: Folder, shared: Iterable[Shared]) -> Iterable[str]:
    """Torque wrenches, and the tools for the drives of the engine types; without a type, those for any drive."""
    types = [one for one in shared if isinstance(one, Model)]
    drives = {fastener.drive for model in types for fastener in model.fasteners.values()}
    for name, tool in source.club.value.tools.items():
        if tool.torque or (set(tool.drives) & drives if types else tool.drives):
            yield name
