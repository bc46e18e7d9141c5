"""A spark plug's torque far from the plug makers' charts for its thread."""

from fractions import Fraction

from docgen.job.tooling import middle
from docgen.proof.case import Findings, Typed
from docgen.trade.errors import TradeError
from docgen.trade.plug import plug
from docgen.trade.quantity import Quantity

FAR = Fraction(3, 2)
"""How many times above or below the chart is far (our choice: the charts of the makers differ by less)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the torque. Gasket seat in aluminium or cast iron, as the model's boss says; else aluminium."""
    for name, fastener in typed.model.value.fasteners.items():
        if fastener.torque is None or fastener.thread is None or not (fastener.drive or "").startswith("plug"):
            continue
        head = fastener.boss.material if fastener.boss else "aluminium"
        try:
            chart = plug(fastener.thread, head=head).torque
        except TradeError:
            continue
        here = middle(fastener.torque).exactly("N.m")
        low, high = (Quantity(end, chart.unit).exactly("N.m") for end in (chart.low, chart.high) if end is not None)
        if here * FAR < low or here > high * FAR:
            yield typed.finding(
                ("fasteners", name, "torque"),
                f"{name}: {fastener.torque}, but the plug makers' charts give {chart} for {fastener.thread}",
                "check the figure against the maker's manual; a plug too tight stretches, one too loose burns",
            )
