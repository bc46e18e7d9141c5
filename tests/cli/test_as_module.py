"""`python -m docgen`, where the command is not on the path."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def test_python_m_docgen_is_the_command() -> None:
    words = [sys.executable, "-m", "docgen", "--help"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0
    assert done.stdout.startswith("Usage: docgen [OPTIONS] COMMAND [ARGS]...\n")
