"""Real child processes that kill themselves at a chosen point, or are killed from outside at any moment.

A point is a call into the operating system that :mod:`docgen.club.store`, :mod:`docgen.club.lock` or
:mod:`docgen.share.put` makes (open, write, flush, link, rename, unlink, lock, ...): one just before the call and one
just after it. Nothing else writes into a club.
"""

from __future__ import annotations

import fcntl
import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

Work = Callable[[Path], None]
"""Does its work, and appends a line to the file that it is given for each thing that it says is done."""

_MODULES = {"posix", "_io", fcntl.__name__}
_WRITERS = ("docgen/club/store.py", "docgen/club/lock.py", "docgen/share/put.py")
_ONLY_TEXT = ("to_yaml",)


def _is_point(frame: FrameType | None, function: Any) -> bool:
    module = getattr(function, "__module__", None) or type(getattr(function, "__self__", None)).__module__
    while module in _MODULES and frame is not None:
        if frame.f_code.co_filename.endswith(_WRITERS):
            return frame.f_code.co_name not in _ONLY_TEXT
        frame = frame.f_back
    return False


def child(work: Work, said: Path, kill_at: int | None = None) -> int:
    """Run the work in a child process and wait for it; its exit status as a shell shows it (137 when killed).

    kill_at : the point, from 0, at which it kills itself; it ends by itself when it has fewer points
    """
    return waited(started(work, said, kill_at))


def started(work: Work, said: Path, kill_at: int | None = None) -> int:
    """Start the work in a child process; its process id."""
    pid = os.fork()
    if pid:
        return pid
    code = 1
    try:
        if kill_at is not None:
            sys.setprofile(_killer(kill_at))
        work(said)
        code = 0
    except Exception as error:  # noqa: BLE001  what the work says goes to the parent
        sys.setprofile(None)
        os.write(2, f"{type(error).__name__}: {error}\n".encode())
    finally:
        os._exit(code)


def _killer(kill_at: int) -> Callable[[FrameType, str, Any], None]:
    passed = 0

    def watch(frame: FrameType, event: str, function: Any) -> None:
        nonlocal passed
        if event in ("c_call", "c_return") and _is_point(frame, function):
            if passed == kill_at:
                os.kill(os.getpid(), signal.SIGKILL)
            passed += 1

    return watch


def waited(pid: int) -> int:
    """Wait for a child; its exit status, 128 + the signal where it was killed."""
    _, status = os.waitpid(pid, 0)
    return 128 + os.WTERMSIG(status) if os.WIFSIGNALED(status) else os.WEXITSTATUS(status)


def kill_after(pid: int, seconds: float) -> bool:
    """Kill a child after some time; whether it was still at work then."""
    time.sleep(seconds)
    done, status = os.waitpid(pid, os.WNOHANG)
    if done:
        if os.WEXITSTATUS(status) or os.WIFSIGNALED(status):
            raise RuntimeError(f"a child ended with {status}")
        return False
    os.kill(pid, signal.SIGKILL)
    return waited(pid) == 128 + signal.SIGKILL


def is_killed(status: int) -> bool:
    """Whether an exit status says that the process was killed."""
    return status == 128 + signal.SIGKILL
