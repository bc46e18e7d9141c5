"""Kills while a parcel is taken in, at some of its points; and proof that the trial would see what goes wrong.

`python -m benchmarks.receiving_faults` kills at every point.
"""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

from tests.conftest import ROOT


def run(words: str) -> list[str]:
    """The lines that the trial prints. It forks, so it has a process of its own, without threads."""
    done = subprocess.run([sys.executable, "-c", words], cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert "Traceback" not in done.stderr, done.stderr
    return done.stdout.splitlines()


def test_the_club_is_never_left_with_half_a_parcel() -> None:
    *points, last, code = run("from benchmarks.receiving_faults import main; print(main(step=83))")
    assert code == "0"
    assert re.fullmatch(r"kills: \d+; half-taken: 0; lost: 0", last), last
    counts = [int(re.sub(r"\D", "", line)) for line in points]
    assert [count >= 7 for count in counts] == [True, True], points


SABOTAGE = {
    "half-taken": """
import docgen.share.put as put
whole = put.write_once
def one_by_one(path, data):
    if path.name != "to-put":
        return whole(path, data)
    from docgen.share.container import from_bytes
    for name, content in from_bytes(data).items():
        if content:
            put.replace(path.parent.parent / name, content)
    whole(path, data)
put.write_once = one_by_one
""",
    "lost": """
import docgen.share.put as put
put._keep_replaced = lambda root, path, data: None
""",
}


@pytest.mark.parametrize("fault", SABOTAGE)
def test_a_program_with_this_fault_would_be_found_out(fault: str) -> None:
    *_, last, code = run(f"{SABOTAGE[fault]}\nfrom benchmarks.receiving_faults import main; print(main(step=113))")
    assert code == "1"
    assert not re.search(f"{fault}: 0", last), last
