"""Processes that work for this one: they end when it ends, however that comes about, and leave interrupts to it."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from multiprocessing import active_children, parent_process
from multiprocessing.connection import wait

ORPHANED = 75
"""How a child ends whose parent is gone (EX_TEMPFAIL of sysexits.h)."""


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


def end_children() -> None:
    """End every child of this process at once."""
    for child in active_children():
        child.kill()
