"""The hostile corpus: each case gets its exact answer, and the operating system saw nothing that it may not do.

A few groups of cases run once, in a process of their own, under the kernel's limits on processor time, memory and file
size (:mod:`tests.hostile.apart`), in a network with nothing in it, and traced (:mod:`tests.hostile.watched`).
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.hostile.apart import MEMORY, SECONDS
from tests.hostile.cases import GROUPS, VECTORS, answers, cases
from tests.hostile.watched import NETWORK, TRACE, Seen, forbidden, lacking, run

LEAST = 120
HERE_NOT = f"{LEAST} hostile cases and more are not run: they need Linux"
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason=HERE_NOT)


TOGETHER = ("yaml_files prose folders parcels numbers", "pages drawings", "papers pictures")
"""Groups that share a process: its start takes longer than most cases."""


@cache
def ran(groups: str) -> Seen:
    """What became of groups, run once."""
    with TemporaryDirectory() as folder:
        return run(groups, Path(folder).resolve())


def seen(group: str) -> Seen:
    """What became of a group."""
    (groups,) = (one for one in TOGETHER if group in one.split())
    found, own = ran(groups), {case.key for case in cases(group)}
    return replace(found, answers={key: text for key, text in found.answers.items() if key in own})


def test_the_corpus_has_every_vector_and_more_than_enough_cases() -> None:
    made = [case for group in GROUPS for case in cases(group)]
    keys = Counter(case.key for case in made)
    assert len(made) >= LEAST
    assert [key for key, count in keys.items() if count > 1] == []
    assert sorted({case.vector for case in made}) == sorted(VECTORS)


@pytest.mark.parametrize("group", GROUPS)
def test_each_case_gets_its_whole_answer(group: str) -> None:
    found, expected = seen(group), answers(group)
    assert found.ended == ""
    assert list(found.answers) == [case.key for case in cases(group)]
    assert {key: text.strip("\n") for key, text in found.answers.items()} == expected


@pytest.mark.parametrize("group", GROUPS)
def test_each_case_stays_within_its_time_and_memory(group: str) -> None:
    """The kernel ends the process otherwise; this only says how near it came."""
    found = seen(group)
    assert found.ended == ""
    assert max(found.seconds.values()) < SECONDS
    assert 0 < found.peak < MEMORY


@pytest.mark.parametrize("group", GROUPS)
def test_no_file_outside_is_touched_and_no_socket_opened(group: str) -> None:
    found = seen(group)
    if found.touched is None:
        pytest.skip(f"{len(found.answers)} hostile cases ran unwatched: this machine has no strace, or forbids it")
    assert found.files > 100, "the trace saw hardly anything"
    assert found.touched == ()


def test_there_is_no_network_to_reach() -> None:
    """Beside the trace: the cases run where the kernel shows them no other machine."""
    if NETWORK in lacking():
        count = sum(len(cases(group)) for group in GROUPS)
        pytest.skip(f"{count} hostile cases ran in the machine's own network: it allows no other (unshare)")
    for group in GROUPS:
        assert seen(group).networks == ("lo",), group


def test_the_watch_sees_what_it_should(tmp_path: Path) -> None:
    """The trace of a process that does everything that is forbidden: each deed is found, and only those."""
    if TRACE in lacking():
        pytest.skip("this machine has no strace, or forbids it")
    found = run("deeds", tmp_path.resolve(), "tests.hostile.deeds")
    assert found.ended == ""
    deeds = [line.partition(":")[0] for line in found.touched or ()]
    assert list(dict.fromkeys(deeds)) == [
        "reads_outside", "reads_through_a_link", "writes_outside", "makes_a_folder_outside",
        "looks_at_a_file_of_the_system", "removes_outside", "opens_a_socket", "asks_for_a_name", "starts_a_program",
    ]  # fmt: skip


def test_the_watch_lets_a_process_do_its_work(tmp_path: Path) -> None:
    root = str(tmp_path)
    trace = "\n".join([
        '1 access("/hostile-case/a", F_OK) = -1 ENOENT (No such file or directory)',
        f'1 openat(AT_FDCWD</>, "{root}/club/club.yaml", O_RDONLY) = 3<{root}/club/club.yaml>',
        f'1 openat(4<{root}/club>, "out.pdf", O_WRONLY|O_CREAT, 0666) = 5<{root}/club/out.pdf>',
        '1 openat(AT_FDCWD</>, "/usr/share/zoneinfo/UTC", O_RDONLY) = 3</usr/share/zoneinfo/UTC>',
        "1 socketpair(AF_UNIX, SOCK_STREAM, 0, [3, 4]) = 0",
    ])  # fmt: skip
    assert forbidden(trace, tmp_path) == ((), 3)
    assert len(forbidden(trace.replace("club.yaml", "../outside/x"), tmp_path)[0]) == 1
