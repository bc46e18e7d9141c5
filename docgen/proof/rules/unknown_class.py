"""A fastener's strength class is none that the standards have: a digit or a point is missing."""

from docgen.proof.case import Findings, Typed
from docgen.trade.errors import TradeError
from docgen.trade.materials import property_class


def on_model(typed: Typed) -> Findings:
    """One finding at the class. Sources: ISO 898-1, ISO 898-2, ISO 3506-1."""
    for name, fastener in typed.model.value.fasteners.items():
        try:
            if fastener.grade is not None:
                property_class(fastener.grade)
        except TradeError as error:
            yield typed.finding(("fasteners", name, "class"), f"{name}: {error.message}", error.hint)
