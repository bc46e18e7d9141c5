"""A material is said to cure in full sooner than it may be handled, or hardly later: minutes for hours."""

from docgen.proof.case import Finding, Findings, Typed

LEAST = 2
"""How many times longer than to handling it takes to cure in full, at the least (common practice, no source)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the full cure, in the club's register."""
    for name, material in typed.club.value.materials.items():
        cures = material.cures
        if cures and cures.full.exactly("s") < LEAST * cures.handling.exactly("s"):
            yield Finding(typed.club.document, ("materials", name, "cures", "full"),
                          f"{name} cures in full in {cures.full}, and can be handled only after {cures.handling}",
                          "check both figures and their units against its sheet")  # fmt: skip
