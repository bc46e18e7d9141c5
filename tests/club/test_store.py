"""Writing once: whole or not at all, never over another, whatever the disk says."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from docgen.club.log import digest
from docgen.club.store import StoreError, append, event_file, replace, write_error, write_once

RUN = {"event": "run", "date": "2030-03-01", "hours": "36 min"}


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_an_event_is_one_file_named_after_its_day_kind_and_digest(tmp_path: Path) -> None:
    path = append(tmp_path / "log", RUN, ("a" * 64,))
    data = path.read_bytes()
    assert data.decode() == f"event: run\ndate: 2030-03-01\nhours: 36 min\nparents:\n- {'a' * 64}\n"
    assert path.name == f"2030-03-01-run-{digest(data)[:12]}.yaml"
    assert (path.name, data) == event_file(RUN, ("a" * 64,))
    assert names(tmp_path / "log") == [path.name]
    assert path.stat().st_nlink == 1


def test_the_very_same_event_is_written_once(tmp_path: Path) -> None:
    assert append(tmp_path, RUN, ()) == append(tmp_path, RUN, ())
    assert len(names(tmp_path)) == 1


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    write_once(tmp_path / "a", b"first")
    with pytest.raises(FileExistsError):
        write_once(tmp_path / "a", b"second")
    assert (names(tmp_path), (tmp_path / "a").read_bytes()) == (["a"], b"first")


def test_replace_is_for_what_is_no_record(tmp_path: Path) -> None:
    replace(tmp_path / "a", b"first")
    replace(tmp_path / "a", b"second")
    assert (names(tmp_path), (tmp_path / "a").read_bytes()) == (["a"], b"second")


@pytest.mark.parametrize("number", [errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS])
def test_where_files_have_no_second_name_they_are_renamed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def no_link(self: Path, target: Path) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, "hardlink_to", no_link)
    write_once(tmp_path / "a", b"first")
    with pytest.raises(FileExistsError):
        write_once(tmp_path / "a", b"second")
    assert (names(tmp_path), (tmp_path / "a").read_bytes()) == (["a"], b"first")


@pytest.mark.parametrize("call", ["write", "fsync", "link"])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT, errno.EIO])
def test_a_fault_of_the_disk_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, number: int
) -> None:
    def fail(*words: object) -> None:
        raise OSError(number, os.strerror(number))

    if call == "link":
        monkeypatch.setattr(Path, "hardlink_to", fail)
    elif call == "fsync":
        monkeypatch.setattr(os, "fsync", fail)
    else:
        monkeypatch.setattr(Path, "open", fail)
    with pytest.raises(OSError) as caught:
        append(tmp_path, RUN, ())
    monkeypatch.undo()
    assert caught.value.errno == number
    assert names(tmp_path) == []
    append(tmp_path, RUN, ())
    assert len(names(tmp_path)) == 1


def test_what_fails_once_the_file_has_its_name_is_a_warning(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Written is written: who is told otherwise files it a second time."""
    (tmp_path / "log").mkdir()
    fsync = os.fsync

    def fail(handle: int) -> None:
        if os.path.isdir(f"/proc/self/fd/{handle}"):  # noqa: PTH112
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        fsync(handle)

    monkeypatch.setattr(os, "fsync", fail)
    warned = "the disk did not confirm that it is kept (Input/output error)"
    assert write_once(tmp_path / "log/a", b"first") == warned
    assert replace(tmp_path / "log/a", b"second") == warned
    monkeypatch.setattr(os, "fsync", fsync)
    assert write_once(tmp_path / "log/b", b"third") == replace(tmp_path / "log/b", b"fourth") == ""
    assert [(tmp_path / "log" / name).read_bytes() for name in names(tmp_path / "log")] == [b"second", b"fourth"]


def in_child(words: str, folder: Path) -> tuple[int, str]:
    """Run Python in a process of its own: its exit code, and what it printed."""
    done = subprocess.run([sys.executable, "-c", words, str(folder)], capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


SMALL_FILES = "signal.signal(signal.SIGXFSZ, signal.SIG_IGN); resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))"
AS_NOBODY = "os.geteuid() or (os.setgid(65534), os.setuid(65534))"
FILE_IT = """
import os, resource, signal, sys
from pathlib import Path
from docgen.club.store import append, write_error
{first}
try:
    append(Path(sys.argv[1]), {{"event": "run", "date": "2030-03-01", "hours": "36 min", "note": "x" * 3000}}, ())
except OSError as error:
    print(write_error(error, "the run of engine 7A"))
"""


def test_a_full_disk_is_said_and_leaves_nothing(tmp_path: Path) -> None:
    """The system itself refuses the bytes behind the first thousand, in the middle of the file."""
    code, said = in_child(FILE_IT.format(first=SMALL_FILES), tmp_path)
    refused = "not-written: the run of engine 7A was not written: File too large"
    assert (code, said) == (0, f"{refused}\n  to mend: try again\n")
    assert names(tmp_path) == []


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that everybody may come to, as the tests' own may be closed to others."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


@pytest.mark.skipif(sys.platform == "win32", reason="no such permissions")
def test_a_folder_that_may_not_be_written_is_said_and_stays_as_it_is(open_folder: Path) -> None:
    log = open_folder / "log"
    log.mkdir()
    append(log, RUN, ())
    before = names(log)
    log.chmod(0o555)
    code, said = in_child(FILE_IT.format(first=AS_NOBODY), log)
    assert code == 0
    assert said == (
        f"read-only: {log} cannot be written to: the run of engine 7A was not written\n"
        "  to mend: check whose folder it is and that the disk is not write-protected\n"
    )
    assert names(log) == before


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "disk-full: the disk is full: the run was not written\n  to mend: make room, then try again"),
        (errno.EROFS, "read-only: club/log cannot be written to: the run was not written\n"
         "  to mend: check whose folder it is and that the disk is not write-protected"),
        (errno.EIO, "not-written: the run was not written: Input/output error\n  to mend: try again"),
    ],
)  # fmt: skip
def test_faults_in_words(number: int, words: str) -> None:
    assert str(write_error(OSError(number, os.strerror(number), "club/log"), "the run")) == words


def test_what_would_not_read_back_is_not_written(tmp_path: Path) -> None:
    with pytest.raises(StoreError) as caught:
        append(tmp_path / "log", {**RUN, "note": "bell \x07"}, ())
    assert caught.value.name == "not-storable"
    assert not (tmp_path / "log").exists()


def test_bytes_are_on_the_disk_before_their_name_and_the_name_before_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a power cut leaves depends on this order: contents, name, folder."""
    calls: list[str] = []
    fsync, link = os.fsync, Path.hardlink_to

    def flush(handle: int) -> None:
        calls.append("flush folder" if os.path.isdir(f"/proc/self/fd/{handle}") else "flush file")  # noqa: PTH112
        fsync(handle)

    def name(self: Path, target: Path) -> None:
        calls.append("link")
        link(self, target)

    monkeypatch.setattr(os, "fsync", flush)
    monkeypatch.setattr(Path, "hardlink_to", name)
    append(tmp_path / "engines/7A/log", RUN, ())
    assert calls == ["flush folder"] * 3 + ["flush file", "link", "flush folder"]
