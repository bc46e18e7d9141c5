"""Runs a command in a fork of this process, with one of its calls into the system failing, or killed at it."""

from __future__ import annotations

import ctypes
import os
import pickle
import shutil
import subprocess
import sys
import tempfile
import traceback
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from benchmarks.faults.killing import waited

SHIM = Path(__file__).with_name("shim.c")
KILL = -1
COUNT = 0


@dataclass(frozen=True)
class Ended:
    """How a command ended: its status (137 when killed), what it said, whether by an exception, and its calls."""

    status: int
    said: str
    raised: str
    calls: int


def compiler() -> str | None:
    """The C compiler of this machine."""
    return shutil.which("cc") or shutil.which("gcc") or shutil.which("clang")


def built(folder: Path) -> Path:
    """The shim, compiled."""
    found = compiler()
    assert found is not None
    shim = folder / "shim.so"
    subprocess.run([found, "-shared", "-fPIC", "-O1", "-o", str(shim), str(SHIM), "-ldl"], check=True)
    return shim


def loaded() -> ctypes.CDLL:
    """The shim in this process, which was started with it."""
    library = ctypes.CDLL(None)
    library.docgen_arm.argtypes = [ctypes.c_char_p, ctypes.c_long, ctypes.c_int]
    library.docgen_passed.restype = ctypes.c_long
    return library


def run(root: Path, words: Sequence[str], typed: str, at: int | None = None, error: int = COUNT) -> Ended:
    """One command in a child; `at` is the call that fails with `error`."""
    with tempfile.TemporaryFile() as told:
        pid = os.fork()
        if pid == 0:
            _child(root, words, typed, at, error, told.fileno())
        status = waited(pid)
        told.seek(0)
        data = told.read()
    if not data:
        return Ended(status, "", "" if status == 137 else f"ended with {status} without a word", 0)
    ended = pickle.loads(data)
    assert isinstance(ended, Ended)
    return ended


def _child(root: Path, words: Sequence[str], typed: str, at: int | None, error: int, told: int) -> None:
    from click.testing import CliRunner

    from docgen.cli.frame import docgen

    library = loaded()
    try:
        runner = CliRunner()
        if at is not None or error == COUNT:
            library.docgen_arm(str(root).encode(), -1 if at is None else at, error)
        done = runner.invoke(docgen, ["--club", str(root), *words], input=typed, prog_name="docgen")
        library.docgen_disarm()
        known = done.exception is None or isinstance(done.exception, SystemExit)
        raised = "" if known else "".join(traceback.format_exception(done.exception))[-1500:]
        ended = Ended(done.exit_code, done.output, raised, library.docgen_passed())
        os.write(told, pickle.dumps(ended))
    except BaseException:  # noqa: BLE001  the parent must not go on as two
        sys.stderr.write(traceback.format_exc())
    finally:
        os._exit(0)
