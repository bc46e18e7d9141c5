"""Several processes that print side by side, each at the end of a pipe of its own.

A process that is killed, by an order or by a break, costs its own order only: half an answer in its pipe is the end of
that pipe, and nobody waits for the rest. (The standard library's pool shares one pipe among all; there, half an answer
of a killed process is waited for without end.)
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Generator, Iterable, Iterator
from itertools import islice
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from typing import Any, Generic, TypeVar

from docgen.club.store import StoreError

Task = TypeVar("Task")
Answer = TypeVar("Answer")

FEW = 12
"""Documents up to which one process is done before others have started."""
PATIENCE = 5.0
"""Seconds that a process is given to end what it is at, so that what it writes is whole."""
ORPHANED = 75
"""How a child ends whose parent is gone (EX_TEMPFAIL of sysexits.h)."""


def side_by_side(many: int, processes: int | None = None) -> int:
    """How many processes to use: by default one a processor, and this one alone for few documents."""
    return min(processes or (1 if many <= FEW else os.cpu_count() or 1), max(many, 1))


def each(
    work: Callable[[Task], Answer], tasks: Iterable[Task], count: int, lost: Callable[[Task], Answer]
) -> Iterator[Answer]:
    """What becomes of each task, as soon as it is there, in any order.

    A task is asked for when one of `count` processes has nothing to do. One that kills its process is found
    out, and costs no other its answer: it is tried in a process of its own, and then given up as `lost` says.
    Errors: an OSError or StoreError, after which no task can be done, is raised here.
    """
    if count == 1:
        yield from map(work, tasks)
        return
    left = yield from in_pool(iter(tasks), count, work)
    for task in left:  # or there was no memory for all at once
        if (yield from in_pool(iter([task]), 1, work)):
            yield lost(task)


def _serve(pipe: Connection[Any, Any], work: Callable[[Any], Any]) -> None:
    end_with_parent()
    with contextlib.suppress(EOFError, OSError):  # nobody asks for more, or waits for the answer
        while True:
            task = pipe.recv()
            try:
                answer = work(task)
            except (OSError, StoreError) as error:
                answer = error
            pipe.send(answer)


class _Worker(Generic[Task, Answer]):
    """A process that does what it is sent, one task after the other."""

    def __init__(self, work: Callable[[Task], Answer], serve: Callable[..., None]) -> None:
        self.process, self.pipe = spawned(serve, work)
        self.tasks: list[Task] = []

    def take(self, task: Task) -> None:
        self.tasks.append(task)
        with contextlib.suppress(OSError):  # it is dead: its answer says so
            self.pipe.send(task)

    def answer(self) -> tuple[Task, Answer | BaseException | None]:
        """Its task, and what became of it; None where the process died of it."""
        task = self.tasks.pop()
        try:
            return task, self.pipe.recv()
        except (EOFError, OSError):
            return task, None

    def end(self) -> None:
        self.pipe.close()
        self.process.join(PATIENCE)
        self.process.kill()
        self.process.join()


def in_pool(
    tasks: Iterator[Task], processes: int, work: Callable[[Task], Answer], serve: Callable[..., None] = _serve
) -> Generator[Answer, None, list[Task]]:
    """Work side by side until there are no more tasks; those that killed their process are given back.

    Errors: as :func:`each`.
    """
    workers: list[_Worker[Task, Answer]] = []
    left: list[Task] = []
    try:
        while True:
            idle = [worker for worker in workers if not worker.tasks]
            for task in islice(tasks, len(idle) + processes - len(workers)):
                if not idle:
                    workers.append(_Worker(work, serve))
                    idle = [workers[-1]]
                idle.pop().take(task)
            busy = {worker.pipe: worker for worker in workers if worker.tasks}
            if not busy:
                return left
            for pipe in wait(busy):
                worker = busy[pipe]  # type: ignore[index]
                task, answer = worker.answer()
                if isinstance(answer, BaseException):
                    raise answer
                if answer is None:
                    workers.remove(worker)
                    worker.end()
                    left.append(task)
                else:
                    yield answer
    finally:
        for worker in workers:
            worker.pipe.close()
        for worker in workers:
            worker.end()


def spawned(serve: Callable[..., None], *given: object) -> tuple[SpawnProcess, Connection[Any, Any]]:
    """A child that runs `serve` with its end of a pipe and what is given, and the pipe's other end.

    It is a fresh process, not a fork: a fork would share, and at its end delete, the parent's folder of fonts. Nobody
    else holds its end of the pipe: when it dies within an answer, the pipe ends there.
    """
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=serve, args=(theirs, *given), daemon=True)
    with _breaks_held():
        process.start()
    theirs.close()
    return process, ours


@contextlib.contextmanager
def _breaks_held() -> Iterator[None]:
    """While a child is started: a break waits, and does not reach it before its `end_with_parent`."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def end_with_parent() -> None:
    """For a child to call first. Nobody tells it that its parent was killed: it waits for that, beside its work."""
    with contextlib.suppress(ValueError):  # not in the main thread
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # a terminal sends it to all; the parent decides
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=_wait_for, args=(parent.sentinel,), daemon=True).start()


def _wait_for(sentinel: int) -> None:
    wait([sentinel])
    os._exit(ORPHANED)
