"""``labels.yaml``: the club's own label sheets, each a grid of equal labels, by dimensions measured on the sheet."""

from pydantic import Field

from docgen.club.schema.base import Length, Name, Strict, Text, Whole


class Grid(Strict):
    """One label sheet. ``left`` and ``top`` are from the paper's edge to the first label's edge; ``across`` and
    ``down`` from one label's edge to the same edge of the next (the label's own size where they touch)."""

    paper: Text
    columns: Whole
    rows: Whole
    width: Length
    height: Length
    left: Length
    top: Length
    across: Length | None = None
    down: Length | None = None


class LabelSheets(Strict):
    """The club's label sheets by name."""

    sheets: dict[Name, Grid] = Field(default_factory=dict)
