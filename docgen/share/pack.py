"""A parcel made: chosen jobs with the sequences, jobs, engine types and register entries that they need."""

import hashlib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from docgen.club.content import content_digest, data_digest
from docgen.club.files import read_bytes, yaml_files
from docgen.club.folder import ORIGINS, Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Version
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.teaching import TeachingPage
from docgen.club.uses import applies
from docgen.club.yamldoc import Data
from docgen.share.container import ParcelRefused, to_bytes
from docgen.share.layout import file_text, to_text
from docgen.share.manifest import FORMAT, MANIFEST, PRIVATE, REGISTERS
from docgen.share.needs import Shared, chosen_entries, files_needed, register_names, with_all_needed
from docgen.share.origins import lineage, version_data

SharedRead = Read[Procedure] | Read[Sequence] | Read[Model] | Read[TeachingPage]
MOST_VERSIONS = 100
"""Most earlier versions of a file that a parcel names."""


@dataclass(frozen=True)
class Made:
    """A parcel ready to be written.

    texts   : each shared file's path and text in the parcel
    because : for what was not chosen, the path of the file that needs it; empty for what was
    origins : the versions of each file that are known once the parcel is out
    records : the paths of the files of engines' records
    """

    data: bytes
    texts: Mapping[str, str]
    because: Mapping[str, str]
    origins: Mapping[str, tuple[Version, ...]]
    records: tuple[str, ...] = ()


def pack(
    folder: Folder, jobs: Collection[str], models: Collection[str] | None = None, engines: Collection[str] = ()
) -> Made:
    """Pack `jobs` (names of procedures) and what they need.

    models  : names of engine types to go with them; None for all to which one of the jobs applies
    engines : numbers of engines whose whole record goes too, with their types; never any unless asked for

    The same content gives the same bytes, whatever the layout and the comments of the files, which stay at home.
    Errors: Refused ``faulty-file`` where a file to be packed has problems.
    """
    reads = shared_files(folder)
    values = {path: read.value for path, read in reads.items()}
    chosen = [f"procedures/{name}.yaml" for name in jobs]
    chosen += [f"models/{name}.yaml" for name in _types(folder, jobs, models, engines)]
    because = with_all_needed(chosen, values)
    needed = {needed for path in because for needed in files_needed(values[path])}
    refuse_faulty(folder, {*because, *needed, ORIGINS})
    texts, known = as_versions(folder, reads, because)
    registers = _registers(folder, [values[path] for path in texts])
    records = _records(folder, engines)
    manifest: dict[str, Data] = {
        "parcel": FORMAT,
        "from": folder.club.value.club,
        "language": folder.club.value.language,
        "files": {path: described(values[path], known[path][-1].digest, texts, known[path]) for path in texts},
    }
    manifest |= {"registers": data_digest(registers)} if registers else {}
    manifest |= {"engines": {path: hashlib.sha256(records[path]).hexdigest() for path in records}} if records else {}
    files = {MANIFEST: to_text(manifest).encode(), **{path: text.encode() for path, text in texts.items()}, **records}
    files |= {REGISTERS: to_text(registers).encode()} if registers else {}
    return Made(to_bytes(files), texts, because, known, tuple(records))


def shared_files(folder: Folder) -> dict[str, SharedRead]:
    """Every file of a club that can be shared, by its path."""
    reads: dict[str, SharedRead] = {}
    for group in (folder.procedures, folder.sequences, folder.models, folder.pages):
        reads |= {read.document.path: read for read in group.values()}
    return reads


def as_versions(
    folder: Folder, reads: Mapping[str, SharedRead], paths: Iterable[str], giver: str | None = None
) -> tuple[dict[str, str], dict[str, tuple[Version, ...]]]:
    """The texts of some files as versions are kept, and the versions known of each with this one last, by path."""
    chosen = {path: reads[path] for path in sorted(paths)}
    texts = {path: file_text(path, read.document.data) for path, read in chosen.items()}
    return texts, {path: lineage(folder.origins, path, content_digest(read.document), revision(read.value), giver)
                   for path, read in chosen.items()}  # fmt: skip


def described(shared: Shared, digest: str, beside: Collection[str], versions: Iterable[Version]) -> Data:
    """What the manifest says of one file.

    beside   : the paths of all shared files in the parcel
    versions : the file's versions, this one last
    """
    told: dict[str, Data] = {"digest": digest}
    if isinstance(shared, (Procedure, Sequence)):
        told["revision"] = str(shared.revision)
        told |= {key: value for key in ("author", "licence") if (value := getattr(shared, key))}
    equipment = shared.needs if isinstance(shared, Procedure) else ()
    told |= {"equipment": list(equipment)} if equipment else {}
    needs = [path for path in files_needed(shared) if path in beside]
    told |= {"needs": list(needs)} if needs else {}
    return {**told, "versions": [version_data(one) for one in tuple(versions)[-MOST_VERSIONS:]]}


def revision(shared: Shared) -> int | None:
    """A procedure's or sequence's revision; a model and a page have none."""
    return shared.revision if isinstance(shared, (Procedure, Sequence)) else None


def _types(
    folder: Folder, jobs: Iterable[str], models: Collection[str] | None, engines: Iterable[str]
) -> dict[str, None]:
    chosen = [folder.procedures[job].value for job in jobs]
    fitting = [name for name, model in folder.models.items() if any(applies(job, model.value) for job in chosen)]
    of_engines = [folder.engines[number].engine.model for number in engines]
    return dict.fromkeys([*(fitting if models is None else models), *of_engines])


def _registers(folder: Folder, shared: Iterable[Shared]) -> dict[str, Data]:
    """The register entries that some files name, as they stand in club.yaml, without what is the club's own affair."""
    found = chosen_entries(folder, {name for one in shared for name in register_names(one)}, PRIVATE)
    return {register: dict(sorted(held.items())) for register, held in found.items() if held}


def _records(folder: Folder, engines: Iterable[str]) -> dict[str, bytes]:
    """Every file of some engines' records, byte for byte: their digests are what makes them one history."""
    found: dict[str, bytes] = {}
    for number in sorted(set(engines)):
        base = f"engines/{number}"
        paths = [f"{base}/engine.yaml"]
        paths += [path for under in ("issued", "log") for path in yaml_files(folder.root, f"{base}/{under}")]
        for path in paths:
            data = read_bytes(folder.root, path)
            if isinstance(data, Problem):
                raise ParcelRefused("faulty-file", f"{path} cannot be packed: {data.message}", data.hint)
            found[path] = data
        refuse_faulty(folder, paths)
    return found


def refuse_faulty(folder: Folder, paths: Collection[str]) -> None:
    """Errors: Refused ``faulty-file`` where one of the files has errors."""
    faulty = sorted({p.path for p in folder.problems if p.level == "error" and p.path in paths})
    if faulty:
        hint = "docgen proof says what is wrong there"
        raise ParcelRefused("faulty-file", f"{faulty[0]} has errors: nothing is done with it", hint)
