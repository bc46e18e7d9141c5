"""Many documents over several processes, in a fixed order, with nothing lost when one fails."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from docgen.press.errors import PressError
from docgen.press.form import Form
from docgen.press.meta import Asset, Attached, Meta, Pressed
from docgen.press.shelf import Shelf
from docgen.sheets.numbering import Numbers
from docgen.sheets.page import Body

LOST = "the process that printed this page was killed: out of memory, or a fault in a system library"


@dataclass(frozen=True)
class Order:
    """One document to print; `key` is the caller's name for it. The rest is as for `render`."""

    key: str
    html: str
    css: str
    meta: Meta
    attachments: tuple[Attached, ...] = ()
    assets: Mapping[str, Asset] = field(default_factory=dict)
    forms: bool = False
    body: Body | None = None
    faces: str = ""
    numbers: Numbers | None = None


@dataclass(frozen=True)
class Outcome:
    """What became of an order: a printed document, or the faults that kept it from being one."""

    key: str
    pressed: Pressed | None
    faults: tuple[str, ...] = ()


Progress = Callable[[int, int, Outcome], None]


def printed(order: Order, shelf: Shelf | None = None) -> Pressed:
    """The order's document, from a kept form where one fits.

    Raises PressError, with every fault found, when the page is not fit to print.
    """
    if shelf is not None and (filled := shelf.filled(order)) is not None:
        return filled
    from docgen.press.render import render

    def keep(form: Form) -> None:
        assert shelf is not None
        with contextlib.suppress(OSError):
            shelf.keep(order, form)

    return render(
        order.html,
        css=order.css,
        meta=order.meta,
        attachments=order.attachments,
        assets=order.assets,
        forms=order.forms,
        body=order.body,
        faces=order.faces,
        numbers=order.numbers,
        keep=keep if shelf is not None else None,
    )


def press(order: Order, shelf: Shelf | None = None) -> Outcome:
    """Print one order; a failure of any kind becomes its outcome."""
    try:
        done = printed(order, shelf)
    except PressError as error:
        return Outcome(order.key, None, error.faults)
    except OSError as error:
        if "cannot load library" in str(error):  # no order can be printed then
            raise
        return _failed(order, error)
    except Exception as error:  # noqa: BLE001  the orders behind this one must still be printed
        return _failed(order, error)
    return Outcome(order.key, done)


def _failed(order: Order, error: Exception) -> Outcome:
    return Outcome(order.key, None, (f"the press failed on this page: {type(error).__name__}: {error}",))


def press_all(
    orders: Sequence[Order], *, processes: int | None = None, progress: Progress | None = None
) -> list[Outcome]:
    """Print all orders; the outcomes are in the order of the orders.

    `processes` is as for :func:`side_by_side`. `progress` is called in this process after each document, with how many
    are done, how many there are, and the outcome.
    """
    from docgen.press.pool import each, side_by_side

    outcomes: dict[int, Outcome] = {}
    numbered = (replace(order, key=str(at)) for at, order in enumerate(orders))
    count = side_by_side(len(orders), processes)
    for outcome in each(press, numbered, count, lambda order: Outcome(order.key, None, (LOST,))):
        at = int(outcome.key)
        outcomes[at] = replace(outcome, key=orders[at].key)
        if progress:
            progress(len(outcomes), len(orders), outcomes[at])
    return [outcomes[at] for at in range(len(orders))]
