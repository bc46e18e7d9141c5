"""Many documents over several processes, in a fixed order, with nothing lost when one fails."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from docgen.press.meta import Order, Pressed, PressError
from docgen.press.shelf import Shelf

LOST = "the process that printed this page was killed: out of memory, or a fault in a system library"


@dataclass(frozen=True)
class Outcome:
    """What became of an order: a printed document, or the faults that kept it from being one."""

    key: str
    pressed: Pressed | None
    faults: tuple[str, ...] = ()


def printed(order: Order, shelf: Shelf | None = None) -> Pressed:
    """The order's document, from a kept form where one fits.

    Errors: PressError, with every fault found, when the page is not fit to print.
    """
    if shelf is not None and (filled := shelf.filled(order)) is not None:
        return filled
    from docgen.press.render import render

    return render(order, partial(shelf.keep, order) if shelf is not None else None)


def press(order: Order, shelf: Shelf | None = None) -> Outcome:
    """Print one order; a failure of any kind becomes its outcome."""
    try:
        done = printed(order, shelf)
    except PressError as error:
        return Outcome(order.key, None, error.faults)
    except Exception as error:
        if isinstance(error, OSError) and "cannot load library" in str(error):  # no order can be printed then
            raise
        return Outcome(order.key, None, (f"the press failed on this page: {type(error).__name__}: {error}",))
    return Outcome(order.key, done)


def press_all(orders: Sequence[Order], processes: int | None = None) -> list[Outcome]:
    """Print all orders; the outcomes are in the order of the orders. `processes` is as for :func:`side_by_side`."""
    from docgen.press.pool import each, side_by_side

    numbered = (replace(order, key=str(at)) for at, order in enumerate(orders))
    count = side_by_side(len(orders), processes)
    made = {int(one.key): one for one in each(press, numbered, count, lambda one: Outcome(one.key, None, (LOST,)))}
    return [replace(made[at], key=order.key) for at, order in enumerate(orders)]
