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
from typing import Any, TypeVar

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


def in_pool(
    tasks: Iterator[Task], processes: int, work: Callable[[Task], Answer], serve: Callable[..., None] = _serve
) -> Generator[Answer, None, list[Task]]:
    """Work side by side until there are no more tasks; those that killed their process are given back.

    Errors: as :func:`each`.
    """
    workers: dict[Connection[Any, Any], SpawnProcess] = {}
    busy: dict[Connection[Any, Any], Task] = {}
    left: list[Task] = []
    try:
        while True:
            for task in islice(tasks, processes - len(busy)):
                idle = next((one for one in workers if one not in busy), None)
                if idle is None:
                    process, idle = spawned(serve, work)
                    workers[idle] = process
                busy[idle] = task
                with contextlib.suppress(OSError):  # it is dead: its answer says so
                    idle.send(task)
            if not busy:
                return left
            ready = wait(list(busy))
            for pipe in [one for one in busy if one in ready]:
                task = busy.pop(pipe)
                try:
                    answer = pipe.recv()
                except (EOFError, OSError):  # the process died of it
                    _end(pipe, workers.pop(pipe))
                    left.append(task)
                    continue
                if isinstance(answer, BaseException):
                    raise answer
                yield answer
    finally:
        for pipe in workers:
            pipe.close()
        for pipe, process in workers.items():
            _end(pipe, process)


def _end(pipe: Connection[Any, Any], process: SpawnProcess) -> None:
    pipe.close()
    process.join(PATIENCE)
    process.kill()
    process.join()


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
