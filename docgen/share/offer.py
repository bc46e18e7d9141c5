"""Each file of a parcel held against the club's own: what it is to this club, and what would become of the file."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Literal

from docgen.club.content import content_digest, data_digest, kept_version
from docgen.club.folder import Folder
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Version
from docgen.club.teaching import ENDING
from docgen.club.yamldoc import Data
from docgen.share.changes import changes
from docgen.share.container import ParcelRefused
from docgen.share.differences import Difference
from docgen.share.merge import Conflict, File, merge, respelled
from docgen.share.origins import common, joined
from docgen.share.pack import SharedRead, revision, shared_files
from docgen.share.parcel import Parcel

Verdict = Literal[
    "new", "aside", "newer", "both", "same", "known", "ahead", "conflict", "stranger", "gone", "held", "mine", "theirs"
]
"""What a file of the parcel is to the club:

new      : the club has no such file
aside    : an engine type that the club has not, beside jobs for types that it has: it is not forced on it
newer    : the club has it as it was before; theirs takes its place
both     : both changed it, in different pieces; it becomes both together
same     : the club has this very text
known    : the club had this text before, and has gone on from it
ahead    : the club changed it too, and has all that they changed
conflict : both changed the same piece
stranger : the club has a file of that name, and nothing says that the two have one origin
gone     : the club had it, and took it away
held     : a page of a job that somebody has to settle first, since it would stand beside another one, or none
mine     : settled: the club's own stays as it is
theirs   : settled: theirs takes its place
"""
TAKEN: tuple[Verdict, ...] = ("new", "newer", "both", "theirs")
"""The verdicts with which a file of the club is written."""
OPEN: tuple[Verdict, ...] = ("conflict", "stranger", "gone", "held")
"""The verdicts that somebody has to settle."""


@dataclass(frozen=True)
class Offer:
    """One file of a parcel, and what it is to the club.

    came      : the digest of what they say
    ours      : the club's file as it is; None where it has none
    data      : what the club's file becomes; None where it stays as it is
    brought   : what they changed (since the common text; where there is none, against ours)
    own       : what the club itself changed since the common text
    conflicts : the pieces that both changed
    versions  : those known once it is taken in, the club's last
    """

    path: str
    verdict: Verdict
    theirs: SharedRead
    came: str
    ours: SharedRead | None = None
    data: File | None = None
    brought: tuple[Difference, ...] = ()
    own: tuple[Difference, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    versions: tuple[Version, ...] = field(default=(), repr=False)

    @property
    def name(self) -> str:
        """The job's, sequence's or model's name; a page has that of its job."""
        return PurePosixPath(self.path).stem

    @property
    def called(self) -> str:
        """The name as somebody is told of it, which tells a page from its job."""
        return PurePosixPath(self.path).name if self.path.endswith(ENDING) else self.name


def offers(
    folder: Folder, parcel: Parcel, mine: Collection[str] = (), theirs: Collection[str] = ()
) -> tuple[Offer, ...]:
    """Every file of the parcel, in the order of their paths.

    mine, theirs : names for which somebody settled that the club's own stays, or that theirs takes its place

    Errors: Refused ``faulty-file`` where the club's own file of that name cannot be read.
    """
    reads = shared_files(folder)
    found: dict[str, Offer] = {}
    for path, read in parcel.shared.items():
        if path in folder.broken:
            hint = "docgen proof says what is wrong there; then again"
            raise ParcelRefused("faulty-file", f"your own {path} has errors, so nothing can be held against it", hint)
        offer = _offer(folder, parcel, path, read, reads.get(path))
        found[path] = _settled(offer, mine, theirs)
    with_record = {path.split("/")[1] for path in parcel.engines}
    wanted = set(theirs) if folder.models and not with_record else {one.name for one in found.values()}
    return tuple(_with_its_job(_unforced(one, wanted), found) for one in found.values())


def _unforced(offer: Offer, wanted: Collection[str]) -> Offer:
    if offer.verdict != "new" or not isinstance(offer.theirs.value, Model) or offer.name in wanted:
        return offer
    return Offer(offer.path, "aside", offer.theirs, offer.came)


def _with_its_job(offer: Offer, found: Mapping[str, Offer]) -> Offer:
    job = found.get(f"{offer.path.removesuffix(ENDING)}.yaml")
    if job is None or job.verdict not in ("stranger", "gone") or offer.verdict not in TAKEN:
        return offer
    return Offer(offer.path, "held", offer.theirs, offer.came, offer.ours, versions=offer.versions)


def _offer(folder: Folder, parcel: Parcel, path: str, theirs: SharedRead, ours: SharedRead | None) -> Offer:
    known = folder.origins.files.get(path, ())
    digests = {one.digest for one in known}
    came = parcel.told[path].digest
    told = parcel.versions(path)
    if ours is None:
        if known:
            gone: Verdict = "known" if came in digests else "gone"
            return Offer(path, gone, theirs, came, versions=joined(known, told))
        return Offer(path, "new", theirs, came, data=_data(theirs), versions=told)
    here = content_digest(ours.document)
    mine = joined(known, (Version(digest=here, revision=revision(ours.value)),))
    if here == came or respelled(_data(theirs), _data(ours)) == _data(ours):
        return Offer(path, "same", theirs, came, ours, versions=_last(joined(mine, told), here))
    if came in digests:
        return Offer(path, "known", theirs, came, ours, versions=mine)
    base_digest = common((*digests, here), (one.digest for one in told))
    after = joined(mine, told)
    if base_digest == here:
        brought = tuple(changes(_data(ours), _data(theirs)))
        return Offer(path, "newer", theirs, came, ours, _data(theirs), brought, versions=_last(after, came))
    base = kept_version(folder.root, path, base_digest) if base_digest else _of_one_origin(folder, path, told)
    if not isinstance(base, dict):
        brought = tuple(changes(_data(ours), _data(theirs)))
        return Offer(path, "stranger", theirs, came, ours, brought=brought, versions=_last(after, here))
    merged = merge(base, _data(ours), _data(theirs))
    brought, own = tuple(changes(base, _data(theirs))), tuple(changes(base, _data(ours)))
    if merged.conflicts:
        conflicts = tuple(merged.conflicts)
        return Offer(path, "conflict", theirs, came, ours, None, brought, own, conflicts, _last(after, here))
    digest = data_digest(merged.data)
    if digest == here:
        return Offer(path, "ahead", theirs, came, ours, None, brought, own, versions=_last(after, here))
    number = merged.data.get("revision")
    new = Version(digest=digest, revision=int(number) if isinstance(number, str) else None)
    versions = _last(joined(after, (new,)), digest)
    verdict: Verdict = "newer" if digest == came else "both"
    return Offer(path, verdict, theirs, came, ours, merged.data, brought, own, (), versions)


def _of_one_origin(folder: Folder, path: str, told: Collection[Version]) -> Data:
    """The last text that the club had of a third, from which theirs came too, though by another version of it."""
    sources = {one.from_ for one in told if one.from_}
    known = folder.origins.files.get(path, ())
    return next((text for one in reversed(known) if one.from_ in sources
                 if isinstance(text := kept_version(folder.root, path, one.digest), dict)), None)  # fmt: skip


def _settled(offer: Offer, mine: Collection[str], theirs: Collection[str]) -> Offer:
    """The offer as somebody settled it; what is no question stays as it is."""
    if offer.verdict in ("same", "ahead") or offer.name not in {*mine, *theirs}:
        return offer
    if offer.verdict == "new" and offer.name in theirs:
        return offer
    if offer.name in theirs:
        brought = tuple(changes(_data(offer.ours), _data(offer.theirs))) if offer.ours else ()
        return Offer(offer.path, "theirs", offer.theirs, offer.came, offer.ours, _data(offer.theirs), brought,
                     versions=_last(offer.versions, offer.came))  # fmt: skip
    # A text that ours did not come from is known, but is no origin of ours.
    versions = tuple(map(_here, offer.versions)) if offer.verdict == "stranger" else offer.versions
    here = content_digest(offer.ours.document) if offer.ours else ""
    versions = _last(versions, here)
    return Offer(offer.path, "mine", offer.theirs, offer.came, offer.ours, versions=versions)


def _here(version: Version) -> Version:
    return version.model_copy(update={"from_": None})


def _last(versions: tuple[Version, ...], digest: str) -> tuple[Version, ...]:
    """The versions with this one at their end."""
    return (*(one for one in versions if one.digest != digest), *(one for one in versions if one.digest == digest))


def _data(read: SharedRead) -> File:
    data = read.document.data
    assert isinstance(data, dict)
    return data
