"""Runs groups of hostile cases in a process of their own, held by the system's own limits.

    python -m tests.hostile.apart "GROUP GROUP" FOLDER

Writes FOLDER/told.jsonl, a line a case: what was said, the processor time it took. The limits are the kernel's
(setrlimit): it ends the process at the first case that passes one. A marker, the asking for a file that never exists,
stands in the trace before each case.
"""

from __future__ import annotations

import json
import os
import resource
import sys
import tempfile
import time
from importlib import import_module
from pathlib import Path

from tests.hostile.cases import Place, cases

SECONDS = 20
"""Most processor time for one case, its making included, and all that it starts."""
MEMORY = 2 << 30
"""Most address space of the process and of each that it starts, bytes."""
WRITTEN = 64 << 20
"""Largest file that may be written, bytes."""
MARKER = "/hostile-case/"
LOADED = ("docgen.press.render", "docgen.cli.print", "docgen.desk.proofing", "docgen.desk.photographs",
          "docgen.desk.parcels")  # fmt: skip
"""Loaded before the first case: where the system's libraries lie is looked for then, and that is no case's doing."""


def main(groups: str, root: Path) -> None:
    """Run the cases of some groups."""
    tempfile.tempdir = str(root / "tmp")
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_FSIZE, (WRITTEN, WRITTEN))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    for name in LOADED:
        import_module(name)
    networks = [line.partition(":")[0].strip() for line in Path("/proc/self/net/dev").read_text().splitlines()[2:]]
    place = Place(root)
    with (root / "told.jsonl").open("w", encoding="utf-8") as told:
        for case in (one for group in groups.split() for one in cases(group)):
            os.access(f"{MARKER}{case.key}".replace(" ", "_"), os.F_OK)
            place.fresh()
            begun = _used()
            resource.setrlimit(resource.RLIMIT_CPU, (int(begun) + SECONDS, resource.RLIM_INFINITY))
            clock = time.monotonic()
            text = case.act(place)
            line = {"key": case.key, "text": text, "cpu": _used() - begun, "wall": time.monotonic() - clock}
            told.write(json.dumps(line, ensure_ascii=True) + "\n")
            told.flush()
    peak = max(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    (root / "peak").write_text(str(peak * 1024))
    (root / "networks").write_text(" ".join(networks))


def _used() -> float:
    spent = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in spent)


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
