"""Strangers' files are read in a process of their own, with limits on memory and time; one that dies is replaced."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from types import TracebackType
from typing import TYPE_CHECKING, Any, TypeVar

from docgen.returns.diagnostic import Refused, Said

if TYPE_CHECKING:  # what reads files is loaded where they are read
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

    from docgen.press.description import Described
    from docgen.returns.form import Form

Answer = TypeVar("Answer")
PICTURE_BYTES = 48 * 1024 * 1024
"""The largest file with pictures of a sheet."""
SECONDS = 30.0
"""The longest that one file may take."""
MEMORY = 2 * 1024**3
"""The most memory that reading may take, bytes; where the system can be told so."""


@dataclass(frozen=True)
class Paper:
    """A PDF as it was read: its form, and the sheet number seen on each page (empty where there is none)."""

    form: Form
    numbers: tuple[str, ...]


class Reader:
    """Reads files, PDFs or `what` they are, apart from this process; use as a context.

    >>> with Reader() as reader:
    ...     reader.read(b"hello")
    Traceback (most recent call last):
    docgen.returns.diagnostic.Refused: not-a-pdf: this is not a PDF
      to mend: give the filled sign-off sheet as it was saved by the viewer
    """

    def __init__(self, seconds: float = SECONDS, what: str = "PDF") -> None:
        self._seconds, self._what = seconds, what
        self._process: SpawnProcess | None = None
        self._pipe: Connection[Any, Any] | None = None

    def __enter__(self) -> Reader:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._end()

    def read(self, data: bytes) -> Paper:
        """Read one file. Errors: those of :func:`read_form`, and Refused ``unreadable-pdf``."""
        form = self.form(data)
        numbers = self._ask(_numbers, data)
        return Paper(form, numbers if isinstance(numbers, tuple) else ())

    def form(self, data: bytes) -> Form:
        """Read only the form of one file. Errors: as :meth:`read`."""
        return self.ask(_form, data)

    def looked_at(self, data: bytes) -> tuple[Described, bytes]:
        """What a printed page says of itself, and a small picture of it. Errors: Refused ``unreadable-pdf``."""
        return self.ask(_look, data)

    def ask(self, function: Callable[..., Answer], *given: object) -> Answer:
        """What a function makes of a stranger's file; it and what it is given are sent to the other process.

        Errors: Refused, those of the function, and ``unreadable-pdf`` (or whatever the files are).
        """
        answer = self._ask(function, *given)
        if isinstance(answer, Said):
            raise Refused(answer.name, answer.message, answer.hint, answer.field)
        return answer  # type: ignore[no-any-return]

    def _ask(self, function: Callable[..., Any], *given: object) -> Any:
        if self._pipe is None:
            self._start()
        assert self._pipe is not None
        message = f"the file could not be read within {self._seconds:.0f} s"
        try:
            self._pipe.send((function, given))
            if self._pipe.poll(self._seconds):
                return self._pipe.recv()
        except (EOFError, OSError):
            part = f"the part of the program that reads {self._what}s"
            message = f"the file broke {part}: it is damaged, or made to do that"
        self._end()
        hint = "no sheet of ours does that: look whether this is one"
        return Said("refused", f"unreadable-{self._what.lower()}", message, hint)

    def _start(self) -> None:
        from docgen.press.pool import spawned

        self._process, self._pipe = spawned(_serve)

    def _end(self) -> None:
        if self._pipe is not None:
            self._pipe.close()
        if self._process is not None:
            self._process.kill()
            self._process.join()
        self._pipe = self._process = None


def _form(data: bytes) -> Form:
    from docgen.returns.form import read_form

    return read_form(data)


def _numbers(data: bytes) -> tuple[str, ...]:
    from docgen.returns.form import visible_numbers

    return visible_numbers(data)


def _look(data: bytes) -> tuple[Described, bytes]:
    """Errors: Refused ``unreadable-pdf``."""
    from docgen.press.description import described, first_page

    try:
        return described(data), first_page(data)
    except ValueError as error:
        raise Refused("unreadable-pdf", str(error)) from error


def _serve(pipe: Connection[Any, Any]) -> None:
    from docgen.press.pool import end_with_parent

    end_with_parent()
    _limit()
    while True:
        try:
            function, given = pipe.recv()
        except EOFError:
            return
        try:
            found: Any = function(*given)
        except Refused as refused:
            found = refused.said
        except Exception as error:  # noqa: BLE001  whatever a hostile file does, the next one is still read
            found = Said("refused", "unreadable-pdf", f"the file cannot be read ({type(error).__name__})")
        pipe.send(found)


def _limit() -> None:
    """No more memory than MEMORY, no file written, no program started; as far as the system can be told.

    Windows cannot be told any of it, macOS not the memory, and a superuser starts programs all the same.
    """
    with contextlib.suppress(ImportError):
        import resource

        kinds = (resource.RLIMIT_AS, MEMORY), (resource.RLIMIT_FSIZE, 0), (resource.RLIMIT_NPROC, 0)
        for kind, most in (*kinds, (resource.RLIMIT_CORE, 0)):
            with contextlib.suppress(ValueError, OSError):
                resource.setrlimit(kind, (most, most))
