"""One filing at a time into one engine's record.

The record is whole without it: two who file at once make two branches. The lock keeps them from making branches that
nobody needs, and from filing the same sheet twice in the same moment. The system lets go of it when a program ends,
in whatever way. POSIX locks the folder itself, which leaves no file behind for a club to wonder at; Windows locks no
folders, so a file stands for it there, and goes with the lock. Where there are no locks at all (some network drives)
filing goes on without.
"""

import contextlib
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from docgen.club.store import StoreError

WAIT = 10.0
"""Seconds until somebody who waits is told that another filing does not end."""
NAME = ".lock"
"""The file that stands for a folder where the system locks none."""


@contextlib.contextmanager
def alone(*folders: Path, wait: float = WAIT) -> Iterator[None]:
    """Hold `folders` against others who ask the same way.

    Several are taken in the order of their names, so that two programs never wait for each other.
    Errors: StoreError ``busy`` after `wait` seconds.
    """
    with contextlib.ExitStack() as stack:
        for folder in sorted(set(folders)):
            stack.enter_context(_one(folder, wait))
        yield


@contextlib.contextmanager
def _one(folder: Path, wait: float) -> Iterator[None]:
    if sys.platform == "win32":
        with _by_file(folder, wait):
            yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        until = time.monotonic() + wait
        while not _taken(handle):
            if time.monotonic() > until:
                raise _busy(folder)
            time.sleep(0.01)
        yield
    finally:
        with contextlib.suppress(OSError):  # the system lets go of it all the same
            os.close(handle)


@contextlib.contextmanager
def _by_file(folder: Path, wait: float) -> Iterator[None]:
    from filelock import FileLock, Timeout

    lock = FileLock(folder / NAME)
    try:
        lock.acquire(timeout=wait, poll_interval=0.01)
    except Timeout:
        raise _busy(folder) from None
    except NotImplementedError:  # a drive without locks
        yield
        return
    try:
        yield
    finally:
        lock.release()


def _busy(folder: Path) -> StoreError:
    message = f"somebody else is filing into {folder}, and has not ended"
    return StoreError("busy", message, "wait a moment, then try again")


def _taken(handle: int) -> bool:
    """Whether we hold it now; also where there are no locks."""
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True
