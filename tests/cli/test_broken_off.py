"""A command that is killed leaves no process at work; one that is broken off ends with 130 and says what is done."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.cli.record_club import say
from tests.smallclub import texts, write

pytestmark = pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks at processes in /proc")
PATIENCE = 60.0
ENGINES = ("7A", "8B", "9C", "10", "11", "12")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    engine = texts()["engines/8B/engine.yaml"]
    others = {n: re.sub("^engine: .*", f'engine: "{n}"', engine, flags=re.M) for n in ENGINES[2:]}
    return write(tmp_path / "club", {f"engines/{number}/engine.yaml": text for number, text in others.items()})


def children(pid: int) -> set[int]:
    """The processes at work that a process started, and those that they started."""
    found: set[int] = set()
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            after = stat.read_text("ascii", "replace").rpartition(")")[2].split()
        except OSError:
            continue
        if int(after[1]) == pid and after[0] != "Z":
            found |= {int(stat.parent.name), *children(int(stat.parent.name))}
    return found


def at_work(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text("ascii", "replace").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def until(truth: object, seconds: float = PATIENCE) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if truth():  # type: ignore[operator]
            return True
        time.sleep(0.05)
    return False


def breakable() -> None:
    """A break reaches the command, also where the tests themselves were started with breaks ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@contextmanager
def printing(root: Path) -> Iterator[subprocess.Popen[str]]:
    """Two workers print for six engines; the first sheet lies in out/ when the block begins."""
    words = ["--club", str(root), "print", "--job", "ROT", "--on", "2030-04-01", "--processes", "2"]
    call = f"import sys; from docgen.cli import main; sys.argv[1:] = {words!r}; main()\n"
    script = root.parent / "call.py"
    script.write_text(f"if __name__ == '__main__':\n    {call}", "utf-8")
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
    process = subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                               env=env, start_new_session=True, preexec_fn=breakable)  # fmt: skip
    try:
        assert until(lambda: any(root.glob("out/*/*-ROT-*.pdf")) or process.poll() is not None)
        assert process.poll() is None, process.communicate()
        yield process
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_the_workers_end_with_the_command(root: Path, how: signal.Signals) -> None:
    with printing(root) as process:
        workers = children(process.pid)
        assert len(workers) >= 2
        process.send_signal(how)
        process.wait(PATIENCE)
        assert until(lambda: not any(at_work(pid) for pid in workers), 10)
    named = say(root, "verify").stdout
    assert [path.name for path in root.rglob(".tmp-*") if path.name not in named] == []


def test_a_break_says_what_is_finished(root: Path) -> None:
    """The terminal sends it to every process of the command."""
    with printing(root) as process:
        workers = children(process.pid)
        os.killpg(process.pid, signal.SIGINT)
        said, told = process.communicate(timeout=PATIENCE)
        assert until(lambda: not any(at_work(pid) for pid in workers))
    done = sorted(path.relative_to(root).as_posix() for path in root.glob("out/*/*-ROT-*.pdf"))
    assert (process.returncode, [line for line in told.splitlines() if line]) == (130, [
        f"Stopped: {12 - len(done)} sheets not printed yet; the same command of the same day prints the rest."
    ])
    assert done != []
    assert {re.sub(".*/out/", "out/", path) for path in re.findall(r"\S+\.pdf", said)} == set(done)


def test_a_reader_of_strangers_files_ends_with_its_parent(tmp_path: Path) -> None:
    call = (
        "import os, time\nfrom docgen.returns.sandbox import Reader\n"
        "if __name__ == '__main__':\n"
        "    with Reader() as reader:\n"
        "        try:\n            reader.form(b'x')\n        except Exception:\n            pass\n"
        "        print('ready', flush=True)\n        time.sleep(60)\n"
    )
    script = tmp_path / "call.py"
    script.write_text(call, "utf-8")
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
    process = subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True, env=env)
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        found = children(process.pid)
        assert found
    finally:
        process.kill()
        process.communicate()
    assert until(lambda: not any(at_work(pid) for pid in found), 10)
