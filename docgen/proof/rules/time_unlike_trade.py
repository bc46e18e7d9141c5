"""An interval, a life or a time to cool is shorter or longer than the trade has it: minutes for hours, a digit more."""

from fractions import Fraction

from docgen.club.yamldoc import Loc
from docgen.proof.case import Finding, Findings, Typed
from docgen.trade.quantity import Quantity

RUNS = (Fraction(1), Fraction(2000))
"""Running hours between two services, or of a part's life: least and most (common practice, no source)."""
COOLS = (Fraction(1, 12), Fraction(8))
"""Hours that an engine takes to cool: least and most (common practice, no source)."""
MONTHS = 60
"""Most months between two services (common practice, no source)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the time."""
    model = typed.model.value
    times: list[tuple[str, Loc, Quantity | None]] = []
    for group, items in (("parts", model.parts), ("fasteners", model.fasteners)):
        times += [(f"the life of {name}", (group, name, "life"), item.life) for name, item in items.items()]
    times += [(f"the interval of {job}", ("intervals", job, "hours"), every.hours)
              for job, every in model.intervals.items()]  # fmt: skip
    for what, loc, time in times:
        if time is not None and not RUNS[0] <= time.exactly("h") <= RUNS[1]:
            yield _finding(typed, what, loc, time, "1 h to 2000 h of running")
    for job, one in model.intervals.items():
        if one.months and one.months > MONTHS:
            yield _finding(typed, f"the interval of {job}", ("intervals", job, "months"), f"{one.months} months",
                           f"at most {MONTHS} months")  # fmt: skip
    if model.cool_down is not None and not COOLS[0] <= model.cool_down.exactly("h") <= COOLS[1]:
        yield _finding(typed, "the time to cool", ("cool_down",), model.cool_down, "5 min to 8 h")


def _finding(typed: Typed, what: str, loc: Loc, time: object, usual: str) -> Finding:
    return typed.finding(loc, f"{what} is {time}; usual is {usual}", "check the figure and its unit; if it is true, "
                         "write  silences: {time-unlike-trade: why}")  # fmt: skip
