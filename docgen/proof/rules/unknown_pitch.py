"""A fastener's thread has a pitch that the standard does not have for its diameter."""

from docgen.proof.case import Findings, Typed
from docgen.trade.errors import TradeError
from docgen.trade.threads import thread, threads


def on_model(typed: Typed) -> Findings:
    """One finding at the thread. Diameters that the table does not hold are let be. Source: ISO 261, M2.5 to M16."""
    known = {f"{one.d_mm:g}" for one in threads().values()}
    for name, fastener in typed.model.value.fasteners.items():
        size = (fastener.thread or "").removesuffix(" left")
        if size.removeprefix("M").partition("x")[0] not in known:
            continue
        try:
            thread(size)
        except TradeError as error:
            yield typed.finding(("fasteners", name, "thread"), f"{name}: {error.message}", error.hint)
