"""Is anything lost or doubled when filing is killed: at every point, from outside, with two and twenty at once?

1. A run, a signed sheet, one with photographs, a correction, a join and a move between two engines are filed by a child
   process that is killed just before and just after each of its calls into the system. After each kill the record is
   looked at, then the same thing is filed again, as a member would, and the record is looked at again.
2. Two and then twenty processes file at once into one log; each is killed again and again after a random time, and
   goes on where it was, until all is filed.

The last line reads `kills: N; lost: 0; half-written: 0; doubled: 0; broken histories: 0; pictures apart: 0`; the exit
code is 1 when it does not. A kill is a SIGKILL: it stands for a program or a battery pulled away from a running machine
as far as the system still writes what it was given, not for a disk that loses what it has confirmed.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from benchmarks.faults import crowd, points
from benchmarks.faults.counting import Tally

LEAST_KILLS = 1100
CROWDS = (2, 20)


def main(least: int = LEAST_KILLS, names: tuple[str, ...] = (), step: int = 1) -> int:
    """Kill so often, at the points (every `step`th) of all kinds of filing or of those named; print what is left."""
    tally = Tally()
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        for name, kills in points.each_point(Path(folder) / "points", tally, names, step):
            print(f"{name}: killed at {kills} points", flush=True)
        for left, many in zip((2, 1), CROWDS, strict=True):
            before = tally.kills
            ends = crowd.at_once(Path(folder) / f"crowd-{many}", many, max(5, (least - before) // left), tally)
            said = f"{tally.kills - before} kills; {ends} end{'' if ends == 1 else 's'} of the history"
            print(f"{many} at once: {said}", flush=True)
    print(f"in {time.monotonic() - begun:.0f} s")
    print(tally)
    return 0 if tally.clean and tally.kills >= least else 1


if __name__ == "__main__":
    sys.exit(main(*(int(word) for word in sys.argv[1:2]), names=tuple(sys.argv[2:])))
