"""The layout mat: a numbered place for each piece that comes off, at full size, in the order of the work.

A place bears the number of the checklist's step in which its piece comes off, with a letter where several do, and says
in which step it goes back.
"""

from __future__ import annotations

from dataclasses import replace

from docgen.club.schema.club import Club
from docgen.job.job import Instructions
from docgen.plan.laydown import Footprint, Laydown, Piece
from docgen.sheets.lying import CLEAR, Lying, size
from docgen.sheets.matpage import Frame, Place, hanging, mat_page, strip
from docgen.sheets.matplaces import Box, paged
from docgen.sheets.page import Page
from docgen.sheets.pagewords import PageWords
from docgen.sheets.paper import PAPERS, Paper
from docgen.sheets.scale import scale_for

MAT = "M"
"""The sheet letter of a mat's number."""
SPARE = 20.0
"""Least height of the strip at the foot of the last page for what else comes off, mm."""


def mat(
    laid: Laydown, told: Instructions, club: Club, paper: Paper, joined: Paper | None = None,
    words: PageWords | None = None,
) -> Page:  # fmt: skip
    """The mat of a job. Every piece has a footprint (the caller has refused those without).

    paper  : what the mat is as large as; ``joined`` what its halves are printed on, if it is joined
    A piece that is larger than the paper keeps a place for its number, which says that it lies beside the mat.
    """
    w = words or PageWords.speaking(told.tongue)
    frame = Frame(told, club, paper, joined, scale_for(club.bench_distance), w.layout_mat, MAT, w)
    spare = max(SPARE, strip(hanging(laid, w), frame))
    ready = [_ready(piece, frame, spare) for piece in laid.pieces]
    pages = paged([one.wish for one in ready], frame.edges, frame.height, spare)
    return mat_page(frame, laid, [[_place(ready[box.at], box, frame) for box in page] for page in pages], w.mat_page)


def papers(club: Club) -> dict[str, tuple[Paper, Paper | None]]:
    """What a club can print a mat on: its paper, twice that, and twice that joined from two sheets of its paper."""
    own = PAPERS[club.paper]
    twice = Paper({"A4": "A3", "Letter": "Tabloid"}[own.name], 2 * own.width, own.height)
    return {own.name: (own, None), twice.name: (twice, None), f"{twice.name}-on-{own.name}": (twice, own)}


def _ready(piece: Piece, frame: Frame, spare: float) -> Lying:
    lying = Lying(_turned(piece, frame.edges[0]), frame.scale, frame.words)
    if lying.fits(frame.edges[-1], frame.height - spare):
        return lying
    return replace(lying, outlined=False, note=f"{frame.words.beside_mat} {size(lying.foot, frame.words)}")


def _turned(piece: Piece, room: float) -> Piece:
    """A single longish piece lies along the lines of text where it can, so that its place is no higher than needed."""
    foot = piece.footprint
    if foot is None or foot.round or foot.kind == "nut" or piece.count > 1:
        return piece
    low, high = sorted((foot.width, foot.height))
    lying = (high, low) if high + 2 * CLEAR <= room else (low, high)
    return replace(piece, footprint=Footprint(foot.kind, *lying))


def _place(lying: Lying, box: Box, frame: Frame) -> Place:
    seam = frame.edges[0]
    across = len(frame.edges) > 1 and box.left < seam
    return lying.place(box, min(box.width, seam - box.left) if across else box.width)
