"""Many documents over several processes, in a fixed order, with nothing lost when one fails."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from multiprocessing import get_context

from docgen.press.errors import PressError
from docgen.press.fetch import Asset
from docgen.press.meta import Attached, Meta
from docgen.press.render import Pressed, render
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


def printed(order: Order) -> Pressed:
    """The order's document. Raises PressError, with every fault found, when the page is not fit to print."""
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
    )


def press(order: Order) -> Outcome:
    """Print one order; a failure of any kind becomes its outcome."""
    try:
        done = printed(order)
    except PressError as error:
        return Outcome(order.key, None, error.faults)
    except Exception as error:  # noqa: BLE001  the orders behind this one must still be printed
        return Outcome(order.key, None, (f"the press failed on this page: {type(error).__name__}: {error}",))
    return Outcome(order.key, done)


def press_all(
    orders: Sequence[Order], *, processes: int | None = None, progress: Progress | None = None
) -> list[Outcome]:
    """Print all orders; the outcomes are in the order of the orders.

    `processes` is the number to use; by default one a processor, and this one alone for a few orders. `progress` is
    called in this process after each document, with how many are done, how many there are, and the outcome. An order
    that kills its process is found out, reported, and costs no other order its print.
    """
    count = min(processes or (1 if len(orders) <= FEW else os.cpu_count() or 1), max(len(orders), 1))
    outcomes: dict[int, Outcome] = {}

    def done(at: int, outcome: Outcome) -> None:
        outcomes[at] = outcome
        if progress:
            progress(len(outcomes), len(orders), outcome)

    if count == 1:
        for at, order in enumerate(orders):
            done(at, press(order))
    else:
        _in_pool(range(len(orders)), orders, count, done)
        while left := [at for at in range(len(orders)) if at not in outcomes]:
            _find_killer(left, orders, done)
    return [outcomes[at] for at in range(len(orders))]


def _pool(processes: int) -> ProcessPoolExecutor:
    # Fresh processes, not forks: a fork would share, and at its end delete, the parent's folder of fonts.
    return ProcessPoolExecutor(processes, mp_context=get_context("spawn"))


def _in_pool(
    which: Iterable[int], orders: Sequence[Order], processes: int, done: Callable[[int, Outcome], None]
) -> None:
    """Print these orders side by side; those that a dying process takes along are left undone."""
    with _pool(processes) as pool:
        try:
            futures: dict[Future[Outcome], int] = {pool.submit(press, orders[at]): at for at in which}
            for future in as_completed(futures):
                try:
                    done(futures[future], future.result())
                except BrokenProcessPool:
                    continue
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _find_killer(left: Sequence[int], orders: Sequence[Order], done: Callable[[int, Outcome], None]) -> None:
    """Print these orders one by one until one of them kills its process again, and report that one."""
    with _pool(1) as pool:
        for at in left:
            try:
                outcome = pool.submit(press, orders[at]).result()
            except BrokenProcessPool:
                fault = "the process that printed this page was killed: out of memory, or a fault in a system library"
                done(at, Outcome(orders[at].key, None, (fault,)))
                return
            done(at, outcome)
