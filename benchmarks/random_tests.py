"""All that the tests do only a share of in every run: random examples, every sheet of the demo, every point to fail at.

The files are those that ask `tests/shares.py` how much to do, or try random examples. The
last line is pytest's own count.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def main() -> int:
    """Run them, and say how that ended."""
    tests = sorted((ROOT / "tests").rglob("test_*.py"))
    asking = re.compile("^from (tests.shares|hypothesis) import", re.MULTILINE)
    files = [path for path in tests if asking.search(path.read_text("utf-8"))] + [ROOT / "tests" / "demo"]
    assert files, "no test asks for its share"
    print(f"{len(files)} files of tests, whole")
    command = [sys.executable, "-m", "pytest", "-q", "--numprocesses", "auto", "--dist", "loadfile", *map(str, files)]
    return subprocess.run(command, cwd=ROOT, env=os.environ | {"DOCGEN_TESTS_WHOLE": "1"}, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
