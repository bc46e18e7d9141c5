"""A break (Ctrl-C) is heard wherever it falls.

Within a validator or a callback of a C library, a KeyboardInterrupt becomes another error or is lost, and what was
being made may be half of what it should be. So a break is remembered beside being raised; and where work comes in whole
pieces it waits for the end of the piece (the second one does not wait).
"""

import signal
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import takewhile
from types import FrameType
from typing import TypeVar

Piece = TypeVar("Piece")


class _Ear:
    heard = False
    waits = False


@contextmanager
def listening() -> Iterator[None]:
    """Within it, breaks are remembered; what fails after one ends as KeyboardInterrupt.

    Where breaks are not Python's own affair (another handler, ignored, not the main thread), nothing is changed.
    """
    _Ear.heard = _Ear.waits = False
    ours = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    try:
        if ours:
            signal.signal(signal.SIGINT, _hear)
    except ValueError:  # not in the main thread
        ours = False
    try:
        yield
    except Exception as error:
        if _Ear.heard and not hasattr(error, "exit_code"):
            raise KeyboardInterrupt from error
        raise
    finally:
        if ours:
            signal.signal(signal.SIGINT, signal.default_int_handler)


@contextmanager
def between_pieces() -> Iterator[None]:
    """Within it, a break waits until :func:`check` is called, which raises it."""
    _Ear.waits = True
    try:
        yield
    finally:
        _Ear.waits = False


def check() -> None:
    """Raise the break that was heard."""
    if _Ear.heard:
        raise KeyboardInterrupt


def up_to_a_break(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """The pieces, and after a break no more of them."""
    return takewhile(lambda _: not _Ear.heard, pieces)


def _hear(number: int, frame: FrameType | None) -> None:
    waits = _Ear.waits and not _Ear.heard
    _Ear.heard = True
    if not waits:
        raise KeyboardInterrupt
