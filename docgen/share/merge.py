"""Two clubs' changes of one file put together, row by row of its text, held against the text that both began from.

A row is a whole piece: a step, a part, a fastener, a limit, a key of the file. Within one nothing is mixed: nobody
wrote that mixture, and nobody tried it.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from merge3 import Merge3

from docgen.club.yamldoc import Data
from docgen.club.yamltext import read_yaml
from docgen.share.layout import to_text
from docgen.trade.quantity import QuantityError, parse_band

File = dict[str, Data]
BOOKKEEPING = ("revision", "dated")
LISTS = ("safety", "stages", "steps", "after_run", "paragraphs")
"""Lists whose items are rows of their own; of stages, each heading and each step."""
MAPS = ("parts", "fasteners", "limits", "settings", "fluids", "intervals")
"""Mappings of a model whose entries are rows of their own."""
_ITEM = re.compile(r" {2}- | {6}- ")
_DECIMAL = re.compile(r"\d+\.\d+")
_ENTRY = re.compile(r" {2}([^\s:]+):")


@dataclass(frozen=True)
class Conflict:
    """Rows that both changed, each in another way, as they stand in each text; none where there is nothing (any more).

    why : where the rows were put together and what came of it cannot be read
    """

    base: tuple[str, ...] = ()
    ours: tuple[str, ...] = ()
    theirs: tuple[str, ...] = ()
    why: str = ""


@dataclass
class Merged:
    """What came of it; where there is a conflict, our side."""

    data: File = field(default_factory=dict)
    conflicts: list[Conflict] = field(default_factory=list)


def merge(base: File, ours: File, theirs: File) -> Merged:
    """Put together what each side changed since `base`.

    A row that one side changed is taken from that side, what both changed alike once; what both changed in different
    ways, or side by side in a list, is a conflict. Equal figures written differently are equal. The revision becomes
    one that neither side has used for another text.

    Errors: Refused ``not-storable``, as :func:`docgen.share.layout.to_text`.
    """
    sides = [base, respelled(ours, base), respelled(theirs, base)]
    was, here, there = (list(_rows(one)) for one in sides)
    rows: list[str] = []
    conflicts = []
    for kind, start, end, *more in Merge3(was, here, there).merge_regions():
        if kind == "conflict":
            texts = (was[start:end], here[more[0] : more[1]], there[more[2] : more[3]])
            before, mine, other = (tuple(row for row in one if not row.startswith("#")) for one in texts)
            conflicts.append(Conflict(before, mine, other))
        else:
            rows += {"unchanged": was, "b": there}.get(kind, here)[start:end]
    if not conflicts:
        document, problems = read_yaml("both together", "".join(rows))
        if document is not None and not problems and isinstance(document.data, dict):
            together: File = {key: value for key, value in document.data.items() if value is not None}
            return Merged(_booked(respelled(together, ours), ours, theirs))
        conflicts = [Conflict(why=problems[0].message if problems else "nothing is left of it")]
    return Merged(ours, conflicts)


def _rows(file: File) -> Iterator[str]:
    """The file's text; before each key and entry its name, so that neighbours stand apart."""
    row = key = ""
    for line in to_text(_unbooked(file)).splitlines(keepends=True):
        name = ""
        if line[0] != " ":
            name = key = line.partition(":")[0]
        elif key in MAPS and (entry := _ENTRY.match(line)):
            name = f"{key} {entry[1]}"
        elif not (key in LISTS and _ITEM.match(line)):
            row += line
            continue
        if row:
            yield row
        if name:
            yield f"# {name}\n"
        row = line
    yield row


def _unbooked(file: File) -> File:
    return {key: "0" if key in BOOKKEEPING else value for key, value in file.items()}


def _booked(data: File, ours: File, theirs: File) -> File:
    """With a revision above both, unless it is one side's very text; the later day."""
    if "revision" not in theirs or "revision" not in ours:
        return data
    same = [_unbooked(side) == data for side in (ours, theirs)]
    revisions = [int(str(side["revision"])) for side in (ours, theirs)]
    days = [str(side.get("dated", "")) for side in (ours, theirs)]
    if same[1] and revisions[1] >= revisions[0]:
        revision, day = revisions[1], days[1]
    elif same[0] and revisions[0] >= revisions[1]:
        revision, day = revisions[0], days[0]
    else:
        revision, day = max(revisions) + 1, max(days)
    return {**data, "revision": str(revision), "dated": day}


def respelled(data: File, like: Data) -> File:
    """`data` with each figure in the spelling that `like` has for it, where the two are equal.

    >>> respelled({"new": "0.4..0.50 mm"}, {"new": "0.40..0.5 mm"})
    {'new': '0.40..0.5 mm'}
    """
    texts = set(_scalars(like))
    spelling = {plain: text for text in texts if (plain := _plain(text)) is not None}
    return {key: _respelled(one, texts, spelling) for key, one in data.items()}


def _respelled(data: Data, texts: set[str], spelling: dict[str, str]) -> Data:
    if isinstance(data, dict):
        return {key: _respelled(one, texts, spelling) for key, one in data.items()}
    if isinstance(data, list):
        return [_respelled(one, texts, spelling) for one in data]
    if isinstance(data, str) and data not in texts and (plain := _plain(data)) in spelling:
        return spelling[plain]
    return data


def _scalars(data: Data) -> Iterator[str]:
    if isinstance(data, dict):
        for one in data.values():
            yield from _scalars(one)
    elif isinstance(data, list):
        for one in data:
            yield from _scalars(one)
    elif isinstance(data, str):
        yield data


@lru_cache(4096)
def _plain(text: str) -> str | None:
    """A figure without its trailing noughts; None for what is no figure."""
    if not text[:1].isdigit() and text[:1] not in "<>+-":
        return None
    try:
        parse_band(text)
    except QuantityError:
        return None
    return _DECIMAL.sub(lambda found: found[0].rstrip("0").rstrip("."), text)
