"""Runs a group of cases under the eyes of the operating system, and reads what it saw.

Two means, both the kernel's and neither a mock: `unshare --net` gives the process a network of its own with nothing in
it, and `strace` writes down every call that names a file or touches a socket, of the process and of all that it starts.
Where the machine has not got them the cases run all the same, and the test that needs the trace says what was not seen.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
import sysconfig
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from posixpath import join, normpath

from PIL import Image

from tests.hostile.apart import MARKER

ROOT = Path(__file__).resolve().parents[2]
NETWORK, TRACE = "a network of its own (unshare)", "a trace (strace)"
LONGEST = 300
"""Seconds after which a group is given up, whatever it waits for."""
_ALONE = (shutil.which("unshare") or "unshare", "--user", "--map-root-user", "--net", "--")
_TRACE = (shutil.which("strace") or "strace", "-f", "-y", "-qq", "-s", "4096",
          "--seccomp-bpf", "-e", "trace=%network,%file", "-o")  # fmt: skip
_CALL = re.compile(r"^\d+ +(?P<name>[a-z0-9_]+)\((?P<rest>.*)$")
_TEXT = re.compile(r'"((?:[^"\\]|\\.)*)"')
_FOLDER = re.compile(r"^(?:AT_FDCWD|-?\d+)<([^>]*)>")
_OPENED = re.compile(r"\) += \d+<(/[^>]*)>$")
_OWN_FILES = re.compile(r"/proc/\d+/fd")
_CHANGES = re.compile(r"^(mkdir|rmdir|unlink|rename|link|symlink|mknod|f?chmod|[fl]?chown|truncate|f?utim|setxattr)")
_TWO = re.compile(r"^(rename|link|symlink)")
_TO_WRITE = re.compile(r"O_(WRONLY|RDWR|CREAT|TRUNC|APPEND)")


@dataclass(frozen=True)
class Seen:
    """What became of a group: its answers, processor seconds, largest memory, and what it touched that it may not.

    touched  : a line a forbidden call, behind the case that made it; None where nobody watched
    files    : how many calls named a file
    networks : the network interfaces that the process could see
    """

    answers: dict[str, str]
    seconds: dict[str, float]
    peak: int
    ended: str
    touched: tuple[str, ...] | None
    files: int = 0
    networks: tuple[str, ...] = ()


@cache
def lacking() -> tuple[str, ...]:
    """Which of the two means this machine has not got (or does not allow)."""
    tries = {NETWORK: (*_ALONE, "/bin/true"), TRACE: (*_TRACE, "/dev/null", "/bin/true")}
    return tuple(name for name, command in tries.items() if not _works(command))


def _works(command: tuple[str, ...]) -> bool:
    try:
        return subprocess.run(command, capture_output=True, timeout=20, check=False).returncode == 0
    except (OSError, subprocess.SubprocessError):
        return False


def run(groups: str, root: Path, module: str = "tests.hostile.apart") -> Seen:
    """Run the cases of groups (their names with blanks between) in `root`, an empty folder, in one process."""
    for name in ("club", "outside", "tmp", "home"):
        (root / name).mkdir()
    (root / "outside" / "secret.yaml").write_text("secret: nobody may read this\n", encoding="utf-8")
    Image.new("L", (2, 2)).save(root / "outside" / "s.png")
    alone = _ALONE if NETWORK not in lacking() else ()
    trace = (*_TRACE, str(root / "trace")) if TRACE not in lacking() else ()
    command = (*alone, *trace, sys.executable, "-W", "error", "-m", module, groups, str(root))
    # Nothing is on the path: a library that is looked for by asking a compiler takes seconds to find in a trace.
    settings = {"PATH": str(root / "home"), "HOME": str(root / "home"), "TMPDIR": str(root / "tmp"), "LANG": "C.UTF-8",
                "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"}  # fmt: skip
    try:
        done = subprocess.run(command, cwd=root, env=settings, capture_output=True, text=True, timeout=LONGEST)
        ended = "" if done.returncode == 0 else f"ended with {done.returncode}: {done.stderr[-2000:]}"
    except subprocess.TimeoutExpired:
        ended = f"did not end within {LONGEST} s"
    told_file = root / "told.jsonl"
    rows = [json.loads(row) for row in told_file.read_text("utf-8").splitlines()] if told_file.exists() else []
    peak = int((root / "peak").read_text()) if (root / "peak").exists() else 0
    touched, files = forbidden((root / "trace").read_text("utf-8", "replace"), root) if trace else (None, 0)
    told = {row["key"]: row["text"] for row in rows}
    networks = tuple((root / "networks").read_text().split()) if (root / "networks").exists() else ()
    return Seen(told, {row["key"]: row["cpu"] for row in rows}, peak, ended, touched, files, networks)


def forbidden(trace: str, root: Path) -> tuple[tuple[str, ...], int]:
    """The calls in a trace that leave the group's own folder, or open a socket; and how many calls named a file.

    Before the first case, while Python starts, only what is changed and sockets count.
    """
    found: list[str] = []
    case, files = "", 0
    for line in trace.splitlines():
        call = _CALL.match(line)
        if call is None:
            continue
        name, rest = call["name"], call["rest"]
        if MARKER in rest:
            case = rest.partition(MARKER)[2].partition('"')[0]
            continue
        paths = _paths(name, rest)[1 if name.startswith("symlink") else 0 :]
        # What was opened in truth, were there a link on the way.
        paths += [path for path in _OPENED.findall(rest) if not _OWN_FILES.fullmatch(path)]
        files += bool(paths)
        if not _allowed(name, rest, paths, root, begun=bool(case)):
            found.append(f"{case or '(before the first case)'}: {name}({rest[:300]}")
    return tuple(dict.fromkeys(found)), files


def _paths(name: str, rest: str) -> list[str]:
    """The files that a call names, whole: those given from a folder with that folder before them.

    A call on a file that is open already (its path is then empty) was judged when it was opened.
    """
    found = []
    at = 0
    for text in list(_TEXT.finditer(rest))[: 2 if _TWO.match(name) else 1]:
        folder = _FOLDER.match(rest[at : text.start()].lstrip(", "))
        path = text[1].encode("latin-1", "backslashreplace").decode("unicode_escape").encode("latin-1", "replace")
        if path:
            found.append(normpath(join(folder[1] if folder else "/", path.decode("utf-8", "replace"))))
        at = text.end()
    return found


def _allowed(name: str, rest: str, paths: list[str], root: Path, begun: bool) -> bool:
    if name in _SOCKETS:
        # A pair is a pipe between a process and its own child; its ends have no address.
        return name in ("socketpair", "getsockname") and "AF_UNIX" in rest and "sun_path" not in rest
    if name in ("getcwd", "fchdir"):
        return True
    folder, outside = f"{root}/", f"{root}/outside/"
    inside = [f"{path}/".startswith(folder) and not f"{path}/".startswith(outside) for path in paths]
    changes = _CHANGES.match(name) or (name in ("open", "openat", "openat2", "creat") and _TO_WRITE.search(rest))
    if changes:
        return all(inside) or set(paths) == {"/dev/null"}
    above = (folder.startswith(f"{path.rstrip('/')}/") for path in paths)
    read = zip(inside, above, paths, strict=True)
    return not begun or all(own or parent or _of_the_program(path) for own, parent, path in read)


_SOCKETS = frozenset(
    "socket socketpair connect bind listen accept accept4 sendto recvfrom sendmsg recvmsg sendmmsg recvmmsg shutdown "
    "getsockname getpeername setsockopt getsockopt".split()
)


_ZIP = f"/lib/python{sys.version_info[0]}{sys.version_info[1]}.zip"


@cache
def _program() -> tuple[str, ...]:
    """Where the program itself, Python and the system's libraries, fonts and tables lie."""
    libraries = (sysconfig.get_path(key) for key in ("stdlib", "purelib", "platlib"))
    own = {str(ROOT), sys.prefix, sys.base_prefix, *libraries}
    return (*sorted(own), "/usr", "/lib", "/lib64", "/bin", "/etc/ld.so.cache", "/etc/ld.so.preload", "/etc/fonts",
            "/etc/localtime", "/etc/locale.alias", "/etc/ssl/openssl.cnf", "/dev/null", "/dev/urandom",
            "/proc/self/exe", "/proc/self/fd", "/sys/devices/system/cpu", "/sys/fs/cgroup", "/var/cache/fontconfig",
            "/proc/sys/crypto/fips_enabled", "/etc/system-fips")  # fmt: skip


@cache
def _of_the_program(path: str) -> bool:
    if path.endswith(_ZIP):  # Python looks for itself, packed, in every folder above its own
        return True
    parents = any(one.startswith(path.rstrip("/") + "/") for one in _program())  # looked up on the way to them
    return parents or any(path == one or path.startswith(one + "/") for one in _program())
