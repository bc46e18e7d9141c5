"""What every test has: the repository's root, no way out to the network, and steady random examples."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Generator
from pathlib import Path
from typing import Any

import pytest
from _pytest.doctest import DoctestModule
from hypothesis import settings

from tests.remembered import remember
from tests.shares import share

ROOT = Path(__file__).resolve().parent.parent

# A slow machine is no fault, and on CI the same examples come every time.
settings.register_profile(
    "house", deadline=None, derandomize="CI" in os.environ, print_blob=True, max_examples=share(40, 100)
)
settings.load_profile("house")
remember()
gc.disable()  # until all is loaded and collected: it stays to the end


class NetworkUsed(Exception):
    """A test, or the code under it, tried to reach another machine."""


def _refuse_network(event: str, args: tuple[Any, ...]) -> None:
    if event == "socket.getaddrinfo" or (event == "socket.connect" and isinstance(args[1], tuple)):
        host = str(args[0] if event == "socket.getaddrinfo" else args[1][0])
        if host not in ("127.0.0.1", "::1", "localhost"):
            raise NetworkUsed(f"nothing in docgen uses the network, but this went to {host}")


sys.addaudithook(_refuse_network)


@pytest.hookimpl(wrapper=True)
def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> Generator[None, list[Any], list[Any]]:
    """Doctests stand in the program: its tests' own files, helpers among them, are not gone through for any."""
    found = yield
    return [one for one in found if not isinstance(one, DoctestModule)]


def pytest_collection_finish() -> None:
    """What was loaded and collected is not looked through for what can be thrown away, again and again."""
    gc.freeze()
    gc.enable()
    gc.set_threshold(50_000, 20, 100)


def pytest_unconfigure() -> None:
    """Nor at the end, where the process is thrown away whole."""
    gc.freeze()


@pytest.fixture(scope="session")
def root() -> Path:
    """The repository's root, which is also the demo club's folder."""
    return ROOT
