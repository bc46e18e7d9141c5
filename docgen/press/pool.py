"""Several processes that print side by side, and what becomes of an order that kills one (see ``workers``)."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context

from docgen.press.children import end_children, end_with_parent
from docgen.press.shelf import Shelf
from docgen.press.workers import Order, Outcome, press


def _pool(processes: int) -> ProcessPoolExecutor:
    # Fresh processes, not forks: a fork would share, and at its end delete, the parent's folder of fonts.
    return ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=end_with_parent)


def in_pool(orders: Iterator[Order], processes: int, shelf: Shelf | None) -> Generator[Outcome, None, list[Order]]:
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


def by_itself(order: Order, shelf: Shelf | None) -> Outcome:
    """Print an order in a process of its own."""
    with _pool(1) as pool:
        try:
            return pool.submit(press, order, shelf).result()
        except BrokenProcessPool:
            fault = "the process that printed this page was killed: out of memory, or a fault in a system library"
            return Outcome(order.key, None, (fault,))
