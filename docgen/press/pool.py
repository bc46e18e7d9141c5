"""Several processes that print side by side, each at the end of a pipe of its own.

A process that is killed, by an order or by a break, costs its own order only: half an answer in its pipe is the end of
that pipe, and nobody waits for the rest. (The standard library's pool shares one pipe among all; there, half an answer
of a killed process is waited for without end.)
"""

from __future__ import annotations

import contextlib
from collections import deque
from collections.abc import Callable, Generator, Iterator
from multiprocessing.connection import Connection, wait
from typing import Any

from docgen.press.children import end_with_parent, spawned
from docgen.press.shelf import Shelf
from docgen.press.workers import Order, Outcome, press

Serve = Callable[..., None]
AHEAD = 2
"""How many orders are made ready for each process while it is at work."""


def _serve(pipe: Connection[Any, Any], shelf: Shelf | None) -> None:
    end_with_parent()
    while True:
        try:
            order = pipe.recv()
        except EOFError:
            return
        try:
            pipe.send(press(order, shelf))
        except OSError as error:  # one after which no order can be printed (see `press`)
            pipe.send(error)


class _Worker:
    """A process that prints what it is sent, one order after the other."""

    def __init__(self, shelf: Shelf | None, serve: Serve) -> None:
        self.process, self.pipe = spawned(serve, shelf)
        self.order: Order | None = None

    def take(self, order: Order) -> None:
        self.order = order
        with contextlib.suppress(OSError):  # it is dead: its answer says so
            self.pipe.send(order)

    def answer(self) -> tuple[Order, Outcome | BaseException | None]:
        """Its order, and what became of it; None where the process died of it."""
        assert self.order is not None
        order, self.order = self.order, None
        try:
            return order, self.pipe.recv()
        except (EOFError, OSError):
            return order, None

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.pipe.close()


def in_pool(
    orders: Iterator[Order], processes: int, shelf: Shelf | None, serve: Serve = _serve
) -> Generator[Outcome, None, list[Order]]:
    """Print side by side until there are no more orders; those that killed their process are given back.

    Errors: an OSError of a process that cannot print at all is raised here.
    """
    workers: list[_Worker] = []
    ready: deque[Order] = deque()
    left: list[Order] = []
    more = True
    try:
        while True:
            for worker in workers:
                if ready and worker.order is None:
                    worker.take(ready.popleft())
            while ready and len(workers) < processes:
                workers.append(_Worker(shelf, serve))
                workers[-1].take(ready.popleft())
            busy = {worker.pipe: worker for worker in workers if worker.order is not None}
            if more and len(ready) < AHEAD * processes:
                done = wait(busy, 0) if busy else []
                if not done:
                    order = next(orders, None)
                    if order is None:
                        more = False
                    elif shelf is not None and (filled := shelf.filled(order)) is not None:
                        yield Outcome(order.key, filled)
                    else:
                        ready.append(order)
            elif not busy:
                return left
            else:
                done = wait(busy)
            for pipe in done:
                worker = busy[pipe]  # type: ignore[index]
                order, outcome = worker.answer()
                if isinstance(outcome, BaseException):
                    raise outcome
                if outcome is None:
                    workers.remove(worker)
                    worker.end()
                    left.append(order)
                else:
                    yield outcome
    finally:
        for worker in workers:
            worker.end()


def by_itself(order: Order, shelf: Shelf | None) -> Outcome:
    """Print an order in a process of its own."""
    worker = _Worker(shelf, _serve)
    try:
        worker.take(order)
        outcome = worker.answer()[1]
    finally:
        worker.end()
    if isinstance(outcome, BaseException):
        raise outcome
    if outcome is None:
        fault = "the process that printed this page was killed: out of memory, or a fault in a system library"
        return Outcome(order.key, None, (fault,))
    return outcome
