"""Many documents over several processes, in a fixed order, with nothing lost when one fails."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field, replace
from multiprocessing import get_context

from docgen.press.children import end_children, end_with_parent
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
    except Exception as error:  # noqa: BLE001  the orders behind this one must still be printed
        return Outcome(order.key, None, (f"the press failed on this page: {type(error).__name__}: {error}",))
    return Outcome(order.key, done)


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
    waiting = iter(orders)
    while True:
        left = yield from _in_pool(waiting, count, shelf)
        if not left:
            return
        for order in left:  # a process died: one of those that it took along killed it
            yield _alone(order, shelf)


def _pool(processes: int) -> ProcessPoolExecutor:
    # Fresh processes, not forks: a fork would share, and at its end delete, the parent's folder of fonts.
    return ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=end_with_parent)


def _in_pool(orders: Iterator[Order], processes: int, shelf: Shelf | None) -> Generator[Outcome, None, list[Order]]:
    """Print side by side until there are no more orders, or a process dies; what it takes along is given back."""
    flying: dict[Future[Outcome], Order] = {}
    left: list[Order] = []
    with _pool(processes) as pool:
        try:
            while not left:
                while len(flying) < 3 * processes and (order := next(orders, None)) is not None:
                    if shelf is not None and (filled := shelf.filled(order)) is not None:
                        yield Outcome(order.key, filled)
                        continue
                    try:
                        flying[pool.submit(press, order, shelf)] = order
                    except BrokenProcessPool:
                        left.append(order)
                        break
                if not flying:
                    break
                for future in wait(flying, return_when=FIRST_COMPLETED).done:
                    order = flying.pop(future)
                    try:
                        outcome = future.result()
                    except BrokenProcessPool:
                        left.append(order)
                        continue
                    yield outcome
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            end_children()
            raise
        for future, order in flying.items():
            if future.exception() is None:
                yield future.result()
            else:
                left.append(order)
    return left


def _alone(order: Order, shelf: Shelf | None) -> Outcome:
    """Print an order in a process of its own."""
    with _pool(1) as pool:
        try:
            return pool.submit(press, order, shelf).result()
        except BrokenProcessPool:
            fault = "the process that printed this page was killed: out of memory, or a fault in a system library"
            return Outcome(order.key, None, (fault,))
