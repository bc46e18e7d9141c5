"""Does all that no case may do, so that the watch can be tried: ``python -m tests.hostile.deeds deeds FOLDER``."""

from __future__ import annotations

import contextlib
import json
import os
import socket
import subprocess
import sys
from pathlib import Path

from tests.hostile.apart import MARKER


def main(root: Path) -> None:
    """One deed after the other, each behind its marker."""
    outside = root / "outside"
    (root / "club" / "link").symlink_to(outside)
    for deed in (
        lambda: _named("is_allowed") or (root / "club" / "a.txt").write_text("a", encoding="utf-8"),
        lambda: _named("reads_outside") or (outside / "secret.yaml").read_text(encoding="utf-8"),
        lambda: _named("reads_through_a_link") or (root / "club" / "link" / "secret.yaml").read_text(encoding="utf-8"),
        lambda: _named("writes_outside") or (outside / "owned").write_text("a", encoding="utf-8"),
        lambda: _named("makes_a_folder_outside") or (outside / "folder").mkdir(),
        lambda: _named("looks_at_a_file_of_the_system") or Path("/etc/passwd").exists(),
        lambda: _named("removes_outside") or (outside / "owned").unlink(),
        lambda: _named("opens_a_socket") or socket.socket(socket.AF_INET, socket.SOCK_STREAM).close(),
        lambda: _named("asks_for_a_name") or socket.getaddrinfo("example.invalid", 80),
        lambda: _named("starts_a_program") or subprocess.run([str(outside / "secret.yaml")], check=False),
    ):
        with contextlib.suppress(OSError):
            deed()
    (root / "told.jsonl").write_text(json.dumps({"key": "a", "text": "", "cpu": 0.0}), encoding="utf-8")


def _named(deed: str) -> None:
    os.access(f"{MARKER}{deed}", os.F_OK)


if __name__ == "__main__":
    main(Path(sys.argv[2]))
