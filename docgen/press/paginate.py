"""The paginator: blocks of known height placed on faces, in one column or in several, none of them split.

A run is a stretch of blocks of one kind: over the full width, or in columns. Blocks that must not be parted from the
next one form a group with it. Groups are placed in their order; where a run of columns could be broken in several
ways, the one is taken whose columns are filled most evenly (least sum of the squares of what stays empty, as in
breaking paragraphs into lines: D. E. Knuth and M. F. Plass, Software: Practice and Experience 11, 1981, from memory).

Pure: lengths in, places out, mm.
"""

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, field, replace
from itertools import groupby, pairwise

from docgen.sheets.page import Body

WIDE = 1
"""Columns of a block over the full width."""


@dataclass(frozen=True)
class Block:
    """One block: its height, in how many columns its run stands, whether it stays with the next, what a break costs.

    grows : by how much it may grow into what is left of its face
    spare : rank of a block that may be left out, from 1, the most welcome; it stays with the one before it
    top   : whether it is wanted only at the top of a face, as the heads of a table that goes on
    early : how welcome a new face is before it, from 0 (like any other) to 1 (a stage of the work begins)
    """

    height: float
    columns: int = WIDE
    with_next: bool = False
    grows: float = 0.0
    early: float = 0.0
    spare: int = 0
    top: bool = False


@dataclass(frozen=True)
class Placement:
    """Where a block stands: its face and column, from 0, and its distance from the top of the face's body.

    ``grown`` is by how much it grew. A block that is not wanted where it would stand has the face -1.
    """

    face: int
    column: int
    top: float
    grown: float = 0.0


NOWHERE = Placement(-1, 0, 0.0)


@dataclass
class _Group:
    """Blocks that stay together, by their indices."""

    blocks: list[int]
    height: float
    early: float


@dataclass
class _Cursor:
    """Where the next run begins, and the places found so far."""

    face: int = 0
    top: float = 0.0
    places: dict[int, Placement] = field(default_factory=dict)


class TooTall(ValueError):
    """A group of blocks is higher than a face. ``block`` is the index of its first, ``by`` what is too much."""

    def __init__(self, block: int, by: float) -> None:
        self.block, self.by = block, by
        super().__init__(f"block {block} is {by:.1f} too high for a face")


def paginate(blocks: Sequence[Block], body: Body) -> tuple[Placement, ...]:
    """The place of each block, in their order. Errors: TooTall when a group fits on no face.

    Spare blocks are taken in by their rank, as many as find room without another face.

    >>> places = paginate([Block(30, 2)] * 4, Body(10, 90, (20, 60), (20, 60)))
    >>> [(one.face, one.column, one.top) for one in places]
    [(0, 0, 0.0), (0, 0, 30.0), (0, 1, 0.0), (0, 1, 30.0)]
    """
    taken: list[int] = []
    places = _placed(blocks, taken, body)
    faces = max((place.face for place in places), default=0)
    spare = sorted((block.spare, index) for index, block in enumerate(blocks) if block.spare)
    for _, index in spare:
        try:
            more = _placed(blocks, [*taken, index], body)
        except TooTall:
            continue
        if max(place.face for place in more) == faces:
            taken, places = [*taken, index], more
    return places


def _placed(blocks: Sequence[Block], taken: Sequence[int], body: Body) -> tuple[Placement, ...]:
    """The places of all blocks but the spare ones that are not taken."""
    kept = [index for index, block in enumerate(blocks) if not block.spare or index in taken]
    joined = {a for a, b in pairwise(kept) if blocks[a].with_next or (b in taken and blocks[b].columns > WIDE)}
    at = _Cursor()
    runs = [_groups(run, blocks, joined) for _, run in groupby(kept, key=lambda index: blocks[index].columns)]
    for groups, after in zip(runs, [*runs[1:], []], strict=True):
        if tall := next((one for one in groups if one.height > body.others[1] + 1e-6), None):
            raise TooTall(tall.blocks[0], tall.height - body.others[1])
        if (columns := blocks[groups[0].blocks[0]].columns) == WIDE:
            _wide(groups, blocks, body, at, after[0].height if after and groups[-1].blocks[-1] in joined else 0.0)
        else:
            _columns(groups, blocks, columns, body, at, last=not after)
    _grow(at.places, blocks, body)
    return tuple(at.places.get(index, NOWHERE) for index in range(len(blocks)))


def _groups(run: Iterable[int], blocks: Sequence[Block], joined: Set[int]) -> list[_Group]:
    groups: list[_Group] = []
    for index in run:
        if groups and groups[-1].blocks[-1] in joined:
            groups[-1].blocks.append(index)
            groups[-1].height += blocks[index].height
        else:
            groups.append(_Group([index], blocks[index].height, blocks[index].early))
    return groups


def room(body: Body, face: int) -> float:
    """The height of one face."""
    return (body.others if face else body.first)[1]


def _grow(places: dict[int, Placement], blocks: Sequence[Block], body: Body) -> None:
    """Blocks that ask for it take what is left of their face; what stands below them moves down."""
    for index in sorted(index for index in places if blocks[index].grows):
        face = places[index].face
        here = [n for n, place in places.items() if place.face == face]
        lowest = max(places[n].top + blocks[n].height + places[n].grown for n in here)
        extra = min(blocks[index].grows, room(body, face) - lowest)
        if extra > 0:
            places[index] = replace(places[index], grown=extra)
            for n in here:
                if places[n].top > places[index].top:
                    places[n] = replace(places[n], top=places[n].top + extra)


def _wide(groups: list[_Group], blocks: Sequence[Block], body: Body, at: _Cursor, after: float) -> None:
    """Place groups over the full width. after : height of what stays with the last one, in columns below it."""
    for group in groups:
        spared = blocks[group.blocks[0]].height if blocks[group.blocks[0]].top else 0.0
        kept = group.height - spared + (after if group is groups[-1] else 0.0)
        if at.top and at.top + kept > room(body, at.face) + 1e-6:
            at.face, at.top = at.face + 1, 0.0
        if spared and at.top:
            at.places[group.blocks[0]] = NOWHERE
            group = _Group(group.blocks[1:], group.height - spared, group.early)
        at.top = _put(group, blocks, at.face, 0, at.top, at)


def _put(group: _Group, blocks: Sequence[Block], face: int, column: int, top: float, at: _Cursor) -> float:
    for index in group.blocks:
        at.places[index] = Placement(face, column, top)
        top += blocks[index].height
    return top


def _columns(
    groups: list[_Group], blocks: Sequence[Block], count: int, body: Body, at: _Cursor, *, last: bool
) -> None:
    """Fill columns face by face; where nothing else follows and the sheet is to be even, all faces alike."""
    start = at.top
    if min(group.height for group in groups[:1]) + at.top > room(body, at.face) + 1e-6:
        at.face, start = at.face + 1, 0.0
    rooms = _rooms(groups, count, body, at.face, start)
    total = sum(group.height for group in groups)
    if body.even and last:
        wanted = [room * total / sum(rooms) for room in rooms]
    else:
        full = sum(rooms[:-count])
        rest = max(0.0, total - full) / count
        wanted = [*rooms[:-count], *([rest] * count)]
    ends = _breaks(groups, rooms, wanted, count)
    final = at.face + (len(ends) - 1) // count
    begin, lowest = 0, start if final == at.face else 0.0
    for column, end in enumerate(ends):
        face = at.face + column // count
        top = start if face == at.face else 0.0
        part = groups[begin:end]
        slack = rooms[column] - sum(group.height for group in part)
        stretching = body.even and last
        gap = min(body.stretch, slack / max(1, len(part) - 1)) if stretching and part else 0.0
        for group in part:
            top = _put(group, blocks, face, column % count, top, at) + gap
        if face == final:
            lowest = max(lowest, top - gap)
        begin = end
    at.face, at.top = final, lowest


def _rooms(groups: list[_Group], count: int, body: Body, face: int, start: float) -> list[float]:
    """The columns that the groups need when each is filled as far as it goes, in whole faces."""
    rooms: list[float] = []
    index = 0
    while index < len(groups):
        high = room(body, face) - (start if not rooms else 0.0)
        for _ in range(count):
            left = high
            while index < len(groups) and groups[index].height <= left + 1e-6:
                left -= groups[index].height
                index += 1
            rooms.append(high)
        face += 1
    return rooms


def _breaks(groups: list[_Group], rooms: list[float], wanted: list[float], count: int) -> list[int]:
    """Where each column ends: all groups, no column over its room, least sum of squares from what is wanted.

    A column that begins a face where work does not begin anew costs as if three tenths of its room stayed empty.
    """
    heights = [0.0]
    for group in groups:
        heights.append(heights[-1] + group.height)
    n, columns = len(groups), len(rooms)
    best: list[list[float]] = [[float("inf")] * (n + 1) for _ in range(columns + 1)]
    back: list[list[int]] = [[0] * (n + 1) for _ in range(columns + 1)]
    best[0][0] = 0.0
    for column in range(columns):
        room, aim = rooms[column], wanted[column]
        for begin in range(n + 1):
            if best[column][begin] == float("inf"):
                continue
            cost = best[column][begin]
            if column > 0 and column % count == 0 and begin < n:
                cost += ((1 - groups[begin].early) * 0.3 * room) ** 2
            for end in range(begin, n + 1):
                used = heights[end] - heights[begin]
                if used > room + 1e-6:
                    break
                total = cost + (aim - used) ** 2
                if total < best[column + 1][end]:
                    best[column + 1][end], back[column + 1][end] = total, begin
    ends = [n]
    for column in range(columns, 1, -1):
        ends.append(back[column][ends[-1]])
    return ends[::-1]
