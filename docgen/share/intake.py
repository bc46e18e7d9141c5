"""What taking a parcel in would make of the club: decided, proofed against the club's own, and not yet written."""

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path, PurePosixPath

from docgen.club.cache import RecordCache
from docgen.club.content import version_file
from docgen.club.files import read_bytes, yaml_files
from docgen.club.fitting import lacks_names
from docgen.club.folder import ORIGINS, Folder
from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.club.schema.procedure import Procedure
from docgen.club.schema.published import FOLDER
from docgen.club.teaching import ENDING, TeachingPage, read_shared
from docgen.club.uses import applies
from docgen.proof import proof_all
from docgen.proof.releases import read_released
from docgen.share.container import ParcelRefused
from docgen.share.founding import with_editor_line
from docgen.share.layout import file_text
from docgen.share.needs import Shared
from docgen.share.offer import OPEN, TAKEN, Offer, offers
from docgen.share.origins import origins_text
from docgen.share.pack import refuse_faulty, shared_files
from docgen.share.parcel import Parcel
from docgen.share.put import GONE, put
from docgen.share.records import new_records, record_problems
from docgen.share.shelf import Entries, Unlike, differing, lacking, with_entries

BESIDE = "shared/beside"
_BESIDE = re.compile(r"-[0-9a-f]{16}(?=\.)")


@dataclass(frozen=True)
class Intake:
    """A parcel held against a club.

    offers  : what each of its files is to the club
    shelf   : the tools, gauges and materials that are added to the club's registers
    unlike  : entries that both have and that mean different things; the club's own stays
    records : the files of engines' records that come in
    faults  : what proofing finds in the club as it would be and not in the club as it is; with any, nothing is taken
    files   : what is written, by path; empty content for what goes
    before  : what those files hold now
    fits    : of each job that comes in, which of the club's engine types it fits, and what the others lack
    """

    offers: tuple[Offer, ...]
    shelf: Entries
    unlike: tuple[Unlike, ...]
    records: Mapping[str, bytes]
    faults: tuple[Problem, ...]
    files: Mapping[str, bytes]
    before: Mapping[str, bytes | None]
    fits: Mapping[str, tuple[str, ...]]

    @property
    def taken(self) -> list[Offer]:
        """The offers that change a file of the club."""
        return [one for one in self.offers if one.verdict in TAKEN]

    @property
    def open(self) -> list[Offer]:
        """The offers that somebody has to settle."""
        return [one for one in self.offers if one.verdict in OPEN]

    @property
    def settled(self) -> list[Offer]:
        """The offers of which somebody said that the club's own stays."""
        return [one for one in self.offers if one.verdict == "mine"]

    def write(self, root: Path) -> str:
        """Write it all, as one; what of it is not in its place yet, in words. Errors: StoreError."""
        return put(root, self.files, self.before)


def intake(
    folder: Folder, parcel: Parcel, on: date, mine: Collection[str] = (), theirs: Collection[str] = (),
    known: RecordCache | None = None,
) -> Intake:  # fmt: skip
    """Decide what becomes of a parcel, and proof the club as it would be. Writes nothing.

    on           : the day, for calibration dates and the state of engines
    mine, theirs : what is settled, see :func:`docgen.share.offer.offers`

    Errors: Refused, with the names of `offers`, ``registers-by-hand``, ``another-engine``, ``record-differs``.
    """
    refuse_faulty(folder, [ORIGINS])
    offered = offers(folder, parcel, mine, theirs)
    taken = [one for one in offered if one.data is not None]
    values: list[Shared] = [one.theirs.value for one in taken]
    shelf = lacking(folder, parcel, values)
    records = new_records(folder, parcel.engines)
    changed = {one.path: _text(folder.root, one) for one in taken}
    if shelf:
        changed["club.yaml"] = with_entries(folder.club.document, shelf, parcel.sender).encode()
    origins = _known(folder, offered)
    then = read_club(folder.root, known, {**changed, **{p: data for p, data in origins.items() if p == ORIGINS}})
    faults = _faults(folder, then, changed, records, on) if changed or records else ()
    beside = _beside(folder.root, offered)
    before = {path: _there(folder, path) for path in (*changed, *beside, ORIGINS)}
    files = {**changed, **records, **beside, **origins}
    changing = {path: data for path, data in files.items() if not _is(folder.root, path, data)}
    unlike, fits = differing(folder, parcel, values), _fits(then, taken)
    return Intake(offered, shelf, unlike, records, faults, changing, before, fits)


def _fits(then: Folder, taken: Iterable[Offer]) -> dict[str, tuple[str, ...]]:
    found = {}
    for name in (one.name for one in taken if isinstance(one.theirs.value, Procedure) and one.name in then.procedures):
        applying = [m for m, read in sorted(then.models.items()) if applies(then.procedures[name].value, read.value)]
        fitting = [model for model in applying if not then.lacks(name, model)]
        lacking_ = [f"{model} {lacks_names(then.lacks(name, model))}" for model in applying if model not in fitting]
        found[name] = (f"fits of your engine types: {', '.join(fitting) or 'none'}", *lacking_)
    return found


def _text(root: Path, offer: Offer) -> bytes:
    """A file as it is put into the club, for an editor too where the club has schemas."""
    data, value = file_text(offer.path, offer.data).encode(), offer.theirs.value
    return with_editor_line(data, value) if (root / FOLDER).is_dir() and not isinstance(value, TeachingPage) else data


def _theirs(offer: Offer) -> bytes:
    return file_text(offer.path, offer.theirs.document.data).encode()


def beside_file(offer: Offer) -> str:
    """Where their version of a file lies while nobody has settled what becomes of it."""
    return f"{BESIDE}/{offer.name}-{offer.came[:16]}{PurePosixPath(offer.path).suffix}"


def _known(folder: Folder, offered: Iterable[Offer]) -> dict[str, bytes]:
    """What is known from now on: the order of the versions, and the text of those that came."""
    settled = [one for one in offered if one.verdict not in (*OPEN, "known", "aside")]
    if not settled:
        return {}
    texts = {version_file(one.path, one.came): _theirs(one) for one in settled}
    origins = {**folder.origins.files, **{one.path: one.versions for one in settled}}
    return {**texts, ORIGINS: origins_text(origins).encode()}


def _beside(root: Path, offered: Iterable[Offer]) -> dict[str, bytes]:
    """Their version beside ours while it is open; what lay there for a file that is settled goes."""
    files: dict[str, bytes] = {}
    for one in offered:
        if one.verdict != "known":
            lying = yaml_files(root, BESIDE, (".yaml", ENDING))
            own = f"{BESIDE}/{PurePosixPath(one.path).name}"
            files |= dict.fromkeys((path for path in lying if _BESIDE.sub("", path) == own), GONE)
        if one.verdict in OPEN and one.ours is not None:
            files[beside_file(one)] = _theirs(one)
    return files


def _is(root: Path, path: str, data: bytes) -> bool:
    return read_bytes(root, path) == data if (root / path).exists() else data == GONE


def _there(folder: Folder, path: str) -> bytes | None:
    """What is in a file now. Errors: Refused ``changed-meanwhile`` where that is not what was read of it."""
    if not (folder.root / path).exists():
        return None
    data = read_bytes(folder.root, path)
    if isinstance(data, Problem):
        raise ParcelRefused(data.name, f"{path}: {data.message}", data.hint)
    read = folder.club if path == "club.yaml" else shared_files(folder).get(path)
    if read is not None:
        document, _ = read_shared(path, data)
        if document is None or document.data != read.document.data:
            message = f"{path} was changed while it was looked at"
            raise ParcelRefused("changed-meanwhile", message, "give the command again")
    return data


def _faults(
    folder: Folder, then: Folder, changed: Mapping[str, bytes], records: Mapping[str, bytes], on: date
) -> tuple[Problem, ...]:
    found = [one for one in _proofed(then, on) if one.level == "error"]
    if found:
        before = {(one.path, one.name, one.message) for one in _proofed(folder, on)}
        found = [one for one in found if (one.path, one.name, one.message) not in before]
    if records and not found:
        already = {(one.path, one.message) for one in folder.problems}
        found = [p for p in record_problems(folder, records, changed) if (p.path, p.message) not in already]
    return tuple(found)


def _proofed(folder: Folder, on: date) -> list[Problem]:
    released, problems = read_released(folder.root)
    return sorted({*folder.problems, *problems, *proof_all(folder, on, released=released)})
