"""Processes that work for this one: they end when it ends, however that comes about, and leave interrupts to it."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Iterator
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from typing import Any

ORPHANED = 75
"""How a child ends whose parent is gone (EX_TEMPFAIL of sysexits.h)."""


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
