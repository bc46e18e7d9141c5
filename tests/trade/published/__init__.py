"""Published figures, each beside what our own functions make of it: the rows of docs/reference-checks.md.

One module a topic; each has `TITLE` and `rows()`. `test_published.py` checks every row and that the page says what the
rows say. To write the page anew: python -m tests.trade.published
"""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from types import ModuleType

PAGE = Path(__file__).resolve().parents[3] / "docs" / "reference-checks.md"
STANDINGS = ("read", "copy", "calc", "memory")


@dataclass(frozen=True)
class Published:
    """One published figure and ours.

    published : as the source prints it
    rounding  : the step to which the source has rounded; one unit of its last digit when not given
    within    : a wider tolerance, only with `because`
    A figure that is text (a check character, a verdict) must agree to the letter.
    """

    quantity: str
    ours: float | str
    published: str
    unit: str
    source: str
    standing: str
    rounding: str = ""
    within: float = 0.0
    because: str = ""

    @property
    def tolerance(self) -> float:
        if isinstance(self.ours, str):
            return 0.0
        step = Decimal(self.rounding) if self.rounding else Decimal(1).scaleb(self._exponent)
        return max(float(step) / 2, self.within)

    @property
    def difference(self) -> float:
        return float(self.ours) - float(self.published)

    @property
    def agrees(self) -> bool:
        if isinstance(self.ours, str):
            return self.ours == self.published
        return abs(self.difference) <= self.tolerance * (1 + 1e-9)

    def or_one_step(self, because: str) -> Published:
        """The row as it is when it agrees to half of the source's step, else with a whole step and the reason."""
        return self if self.agrees else replace(self, within=2 * self.tolerance, because=because)

    @property
    def fault(self) -> str:
        """Why the row itself is not fit to stand in the table; empty when it is."""
        if self.standing not in STANDINGS:
            return f"standing {self.standing!r} is none of {STANDINGS}"
        if not (self.source and self.quantity):
            return "no source or no quantity"
        return "a wider tolerance needs its reason" if self.within and not self.because else ""

    @property
    def cells(self) -> tuple[str, ...]:
        if isinstance(self.ours, str):
            return (self.quantity, self.ours, self.published, "same", self.source, self.standing, self.because)
        places = max(0, -self._exponent)
        ours = f"{self.ours:.{places + 2}f}" if places < 12 else f"{self.ours:.15g}"
        off = f"{self.difference:+.1e}" if self.difference else "0"
        unit = f" {self.unit}" if self.unit else ""
        note = self.because and f"within {self.tolerance:.3g}: {self.because}"
        return (f"{self.quantity}", f"{ours}{unit}", f"{self.published}{unit}", off, self.source, self.standing, note)

    @property
    def _exponent(self) -> int:
        return int(Decimal(self.published).as_tuple().exponent)


def topics() -> dict[str, tuple[ModuleType, list[Published]]]:
    """Return every topic's title, its module, and its rows, in the order of the modules' names."""
    found = {}
    for module in sorted(pkgutil.iter_modules(__path__), key=lambda each: each.name):
        if not module.name.startswith("_"):
            topic = importlib.import_module(f"{__name__}.{module.name}")
            found[topic.TITLE] = (topic, topic.rows())
    return found


HEAD = """# Figures checked against published ones

Written by `python -m tests.trade.published` from the rows that `tests/trade/test_published.py` checks; do not edit it.
Ours agrees with the published figure to within half of the source's last digit, unless the last column gives a wider
tolerance and why.

Standing of a source: **read** in the source itself; **copy** read in a secondary copy; **calc** follows from the
formula, so it checks our arithmetic only; **memory** recalled, so treat it with care.
"""


def page() -> str:
    """Return the text of docs/reference-checks.md."""
    parts = [HEAD]
    for title, (topic, rows) in topics().items():
        says = topic.says() if hasattr(topic, "says") else getattr(topic, "SAYS", "")
        parts.append(f"\n## {title}\n")
        parts += [says] if says else []
        parts.append("| quantity | ours | published | difference | source | standing | tolerance, where wider |")
        parts.append("|---|---|---|---|---|---|---|")
        parts += [f"| {' | '.join(cell.replace('|', '/') for cell in row.cells)} |" for row in rows]
    return "\n".join(parts) + "\n"
