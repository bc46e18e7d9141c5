"""A break is heard wherever it falls, also where a library would swallow it."""

from __future__ import annotations

import signal
from collections.abc import Iterator

import pytest
from pydantic import BaseModel, field_serializer

from docgen.cli._breaks import between_pieces, check, listening, up_to_a_break


class Swallows(BaseModel):
    """What is raised within its serialiser comes out as another error."""

    value: int = 1

    @field_serializer("value")
    def _plain(self, value: int) -> int:
        signal.raise_signal(signal.SIGINT)
        return value


@pytest.fixture(autouse=True)
def _as_in_a_terminal() -> Iterator[None]:
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def test_the_library_still_swallows_breaks() -> None:
    with pytest.raises(Exception, match="KeyboardInterrupt") as error:
        Swallows().model_dump_json()
    assert not isinstance(error.value, KeyboardInterrupt)


def test_a_break_that_became_another_error_is_a_break() -> None:
    with pytest.raises(KeyboardInterrupt), listening():
        Swallows().model_dump_json()
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_an_error_without_a_break_stays_what_it_is() -> None:
    with pytest.raises(ValueError, match="of its own"), listening():
        raise ValueError("of its own")


def test_a_break_waits_for_the_end_of_a_piece() -> None:
    made: list[str] = []

    def work() -> None:
        for piece in up_to_a_break(["one", "two", "three"]):
            if piece == "two":
                signal.raise_signal(signal.SIGINT)
            made.append(piece)

    with listening(), between_pieces():
        work()
        with pytest.raises(KeyboardInterrupt):
            check()
    assert made == ["one", "two"]


def test_the_second_break_does_not_wait() -> None:
    with listening(), between_pieces():
        signal.raise_signal(signal.SIGINT)
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)


def test_no_break_no_end() -> None:
    with listening(), between_pieces():
        check()
        assert list(up_to_a_break("abc")) == ["a", "b", "c"]
