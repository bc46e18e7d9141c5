"""A parcel read: everything in it checked, nothing of it believed, nothing written."""

import hashlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import TypeVar

from pydantic import BaseModel

from docgen.club.content import data_digest
from docgen.club.fit import fit
from docgen.club.folder import Read
from docgen.club.problem import Problem
from docgen.club.schema.model import Model
from docgen.club.schema.origins import SHARED_FILE, Version
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.teaching import ENDING, TeachingPage, read_shared
from docgen.club.yamldoc import Data, Document
from docgen.share.container import ParcelRefused, from_bytes, quoted
from docgen.share.layout import file_text
from docgen.share.manifest import ENGINE_FILE, MANIFEST, PRIVATE, REGISTERS, Manifest, Packed, Registers
from docgen.share.needs import steps_of
from docgen.share.pack import SharedRead, described

MAX_SHARED = 200
"""Most procedures, sequences, models and pages in a parcel."""
MAX_STEPS = 400
"""Most steps in one procedure or sequence; the longest of our own has under a hundred."""
MAX_ITEMS = 600
"""Most parts and fasteners in one model, the members of a group counted each."""
MAX_LIST = 400
"""Longest list anywhere in a shared file."""
_PACK_AGAIN = "ask the sender to pack it again with  docgen pack"

Shape = TypeVar("Shape", bound=BaseModel)


class FaultyParcel(ParcelRefused):
    """A parcel whose files have faults of their own, each with its place."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("faulty-parcel", "files in the parcel have faults", "tell the sender: nothing was taken")
        self.problems = problems


@dataclass(frozen=True)
class Parcel:
    """A parcel without faults.

    sender   : the club's name as the parcel gives it, which proves nothing
    language : of the files that name none
    shared   : procedures, sequences, models and pages that teach, by their path
    told     : what the manifest says of each
    engines  : the files of engines' records, byte for byte
    """

    sender: str
    language: str
    shared: Mapping[str, SharedRead]
    told: Mapping[str, Packed]
    registers: Registers
    register_data: Mapping[str, Data]
    engines: Mapping[str, bytes]

    def versions(self, path: str) -> tuple[Version, ...]:
        """The versions of a file with the club that each came from; the last one is the file in the parcel."""
        told = self.told[path].versions
        return tuple(one if one.from_ else one.model_copy(update={"from_": self.sender}) for one in told)


def open_parcel(name: str, data: bytes) -> Parcel:
    """Read a parcel. `name` is only used in what is said of it.

    Errors: Refused with the names of :func:`docgen.share.container.from_bytes`, ``no-manifest``, ``stray-file``,
    ``file-missing``, ``page-without-job``, ``digest-differs``, ``manifest-differs``, ``file-not-as-packed``,
    ``too-many-files``, ``too-many-steps``, ``too-many-parts``, ``list-too-long``,
    ``private-register``; FaultyParcel for faults inside the files.
    """
    files = from_bytes(data)
    if MANIFEST not in files:
        message = f"the archive holds no {MANIFEST}, so it is not a parcel"
        raise ParcelRefused("no-manifest", message, "give the file that docgen pack wrote")
    read_manifest = _read(name, MANIFEST, files, Manifest)
    manifest = read_manifest.value
    _check_names(manifest, files)
    shared = {path: _shared(name, path, files) for path in sorted(manifest.files)}
    for path, read in shared.items():
        _check_job(path, shared)
        _check_size(path, read)
        _check_told(path, read, manifest.files[path], read_manifest.document, shared)
    registers = _registers(name, manifest, files)
    for path, digest in manifest.engines.items():
        if hashlib.sha256(files[path]).hexdigest() != digest:
            raise ParcelRefused("digest-differs", f"{path} in the parcel is not what the manifest says", _PACK_AGAIN)
    told = registers.document.data if registers else {}
    assert isinstance(told, dict)
    return Parcel(
        sender=manifest.from_,
        language=manifest.language,
        shared=shared,
        told=manifest.files,
        registers=registers.value if registers else Registers(),
        register_data=told,
        engines={path: files[path] for path in sorted(manifest.engines)},
    )


def _check_names(manifest: Manifest, files: Mapping[str, bytes]) -> None:
    listed = {MANIFEST, *manifest.files, *manifest.engines, *((REGISTERS,) if manifest.registers else ())}
    for path in sorted(files.keys() - listed):
        known = SHARED_FILE.fullmatch(path) or ENGINE_FILE.fullmatch(path) or path == REGISTERS
        why = "of which the manifest says nothing" if known else "which is none of the kinds that a parcel carries"
        raise ParcelRefused("stray-file", f"the parcel holds {quoted(path)}, {why}", _PACK_AGAIN)
    for path in sorted(listed - files.keys()):
        raise ParcelRefused("file-missing", f"the parcel lacks {quoted(path)}, which its manifest names", _PACK_AGAIN)
    if len(manifest.files) > MAX_SHARED:
        what = f"{len(manifest.files)} jobs, models and pages"
        message = f"the parcel holds {what}; the most that are read are {MAX_SHARED}"
        raise ParcelRefused("too-many-files", message, "ask the sender to pack fewer jobs into one parcel")


def _document(name: str, path: str, files: Mapping[str, bytes]) -> Document:
    document, problems = read_shared(f"{name}/{path}", files[path])
    if document is None or problems:
        raise FaultyParcel(problems)
    try:
        packed = file_text(path, document.data).encode()
    except ParcelRefused:  # such as a key with nothing behind it, which is never written
        packed = b""
    if packed != files[path]:
        message = f"{path} in the parcel is not laid out as docgen pack does it"
        raise ParcelRefused("file-not-as-packed", message, _PACK_AGAIN)
    return document


def _read(name: str, path: str, files: Mapping[str, bytes], shape: type[Shape]) -> Read[Shape]:
    document = _document(name, path, files)
    value, problems = fit(document, shape)
    if value is None or problems:
        raise FaultyParcel(sorted(problems))
    return Read(value, document)


def _shared(name: str, path: str, files: Mapping[str, bytes]) -> SharedRead:
    if path.startswith("models/"):
        return _named(path, _read(name, path, files, Model), "model")
    if path.endswith(ENDING):
        return _read(name, path, files, TeachingPage)
    document = _document(name, path, files)
    if isinstance(document.data, dict) and "sequence" in document.data:
        return _named(path, _read(name, path, files, Sequence), "sequence")
    return _named(path, _read(name, path, files, Procedure), "procedure")


def _named(path: str, read: Read[Shape], key: str) -> Read[Shape]:
    if getattr(read.value, key) != PurePosixPath(path).stem:
        message = f'the file is called "{PurePosixPath(path).stem}" but says {key}: {getattr(read.value, key)}'
        raise FaultyParcel([read.document.problem((key,), "name-differs", message, "give both the same name")])
    return read


def _check_job(path: str, shared: Mapping[str, SharedRead]) -> None:
    """A page comes with the job that it teaches, so that nothing comes that is printed nowhere."""
    job = shared.get(f"{path.removesuffix(ENDING)}.yaml")
    if path.endswith(ENDING) and (job is None or not isinstance(job.value, Procedure)):
        message = f"the parcel holds {path}, and no job of that name that it could stand beside"
        raise ParcelRefused("page-without-job", message, _PACK_AGAIN)


def _check_size(path: str, read: SharedRead) -> None:
    """Keep what is compared and simulated within bounds that no real file comes near."""
    longest = max(_list_lengths(read.document.data), default=0)
    if longest > MAX_LIST:
        message = f"{path} in the parcel has a list of {longest} things; the most that are taken are {MAX_LIST}"
        raise ParcelRefused("list-too-long", message, _PACK_AGAIN)
    if (steps := len(steps_of(read.value))) > MAX_STEPS:
        message = f"{path} in the parcel has {steps} steps; the most that are taken are {MAX_STEPS}"
        raise ParcelRefused("too-many-steps", message, "ask the sender to cut it into several jobs")
    if isinstance(read.value, Model):
        items = sum(max(1, item.count) for item in (*read.value.parts.values(), *read.value.fasteners.values()))
        if items > MAX_ITEMS:
            message = f"{path} in the parcel has {items} parts and fasteners; the most that are taken are {MAX_ITEMS}"
            raise ParcelRefused("too-many-parts", message, _PACK_AGAIN)


def _list_lengths(data: Data) -> Iterator[int]:
    if isinstance(data, list):
        yield len(data)
    for one in data.values() if isinstance(data, dict) else data if isinstance(data, list) else ():
        yield from _list_lengths(one)


def _check_told(path: str, read: SharedRead, told: Packed, manifest: Document, beside: Collection[str]) -> None:
    if told.digest != data_digest(read.document.data) or told.versions[-1].digest != told.digest:
        raise ParcelRefused("digest-differs", f"{path} in the parcel is not what the manifest says", _PACK_AGAIN)
    assert isinstance(manifest.data, dict)
    files = manifest.data["files"]
    assert isinstance(files, dict)
    if described(read.value, told.digest, beside, told.versions) != files[path]:
        message = f"the manifest says something else of {path} than the file says of itself"
        raise ParcelRefused("manifest-differs", message, _PACK_AGAIN)


def _registers(name: str, manifest: Manifest, files: Mapping[str, bytes]) -> Read[Registers] | None:
    if manifest.registers is None:
        return None
    read = _read(name, REGISTERS, files, Registers)
    if data_digest(read.document.data) != manifest.registers:
        raise ParcelRefused("digest-differs", f"{REGISTERS} in the parcel is not what the manifest says", _PACK_AGAIN)
    for register, private in PRIVATE.items():
        for entry, value in getattr(read.value, register).items():
            if given := [key for key in private if key in value.model_fields_set]:
                message = f"{REGISTERS} in the parcel gives {given[0]} of {entry}, which is the club's own affair"
                raise ParcelRefused("private-register", message, _PACK_AGAIN)
    return read
