"""Writes down what the hostile cases are told now: ``python -m tests.hostile.accept [GROUP ...]``. Read it first."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.hostile.cases import GROUPS, HERE, written
from tests.hostile.watched import run


def main(groups: list[str]) -> None:
    """Run the groups and write their answers down."""
    for group in groups or GROUPS:
        with tempfile.TemporaryDirectory() as folder:
            seen = run(group, Path(folder))
        (HERE / "refusals" / f"{group}.txt").write_text(written(seen.answers), encoding="utf-8")
        sys.stdout.write("\n".join([f"{group}: {len(seen.answers)} cases", *(seen.touched or ()), seen.ended]) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:])
