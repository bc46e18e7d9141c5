"""A part of a shape that can go on the wrong way round, without its right way round."""

from docgen.proof.case import Findings, Typed

HANDED = ("dished-washer", "seal", "piston", "chain-clip")
"""Shapes that are never the same from both sides (common practice, no source)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the part."""
    for group in ("parts", "fasteners"):
        for name, item in getattr(typed.model.value, group).items():
            shape = item.shape
            if shape is None or item.orientation is not None:
                continue
            if shape.kind in HANDED or shape.chamfer is not None:
                what = "has a chamfer" if shape.kind not in HANDED else f"is a {shape.kind.replace('-', ' ')}"
                yield typed.finding((group, name), f"{name} {what}, but nothing says which way round it goes",
                                    "write  orientation: {face: what can be seen, towards: what it faces}", key=True)
