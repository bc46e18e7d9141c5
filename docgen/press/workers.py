"""Many documents over several processes, in a fixed order, with nothing lost when one fails."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from docgen.press.errors import PressError
from docgen.press.form import Form
from docgen.press.meta import Asset, Attached, Meta, Pressed
from docgen.press.shelf import Shelf
from docgen.sheets.numbering import Numbers
from docgen.sheets.page import Body

FEW = 12  # up to here one process is done before others have started


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

    `processes` is as for :func:`press_each`. `progress` is called in this process after each document, with how many
    are done, how many there are, and the outcome.
    """
    outcomes: dict[int, Outcome] = {}
    numbered = (replace(order, key=str(at)) for at, order in enumerate(orders))
    for outcome in press_each(numbered, processes=processes, many=len(orders)):
        at = int(outcome.key)
        outcomes[at] = replace(outcome, key=orders[at].key)
        if progress:
            progress(len(outcomes), len(orders), outcomes[at])
    return [outcomes[at] for at in range(len(orders))]


def press_each(
    orders: Iterable[Order], *, processes: int | None = None, many: int = FEW, shelf: Shelf | None = None
) -> Iterator[Outcome]:
    """Print the orders as they come; each outcome is given as soon as it is there, in any order.

    `processes` is the number to use; by default one a processor, and this one alone where `many`, how many orders may
    come, are few. `shelf` holds the forms that are filled, and keeps those that are new. No more orders are asked for
    than the processes have work for the next while, so that memory does not grow with how many there are. An order that
    kills its process is found out, reported, and costs no other its print.
    """
    count = min(processes or (1 if many <= FEW else os.cpu_count() or 1), max(many, 1))
    if count == 1:
        yield from (press(order, shelf) for order in orders)
        return
    from docgen.press.pool import by_itself, in_pool

    left = yield from in_pool(iter(orders), count, shelf)
    for order in left:  # it killed its process, or there was no memory for all at once
        yield by_itself(order, shelf)
