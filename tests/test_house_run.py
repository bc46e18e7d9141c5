"""`./run` on machines that are not this one: a made-up PATH with stand-ins for Python, pip and the package managers.

The stand-ins write down how they were called, so a test compares everything the script did and everything it said.
"""

from __future__ import annotations

import os
import platform
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SHELL = shutil.which("dash") or shutil.which("sh") or "/bin/sh"
TOOLS = "cat cksum cp dirname env head mkdir mktemp mv rm rmdir sed tail touch tr uname".split()

# What the stand-ins know of the machine is a folder of marks: state/NAME is there or not.
PYTHON = """#!/bin/sh
case "$*" in
*'< (3, 11)'*) [ ! -e "$STATE/old" ]; exit ;;
--version) if [ -e "$STATE/old" ]; then echo 'Python 3.9.2'; else echo 'Python 3.12.1'; fi; exit ;;
*_base_executable*) echo "$0"; exit ;;
*%d.%d*) echo 3.12; exit ;;
*'import ensurepip'*) [ -e "$STATE/python3.12-venv" ]; exit ;;
*'import weasyprint'*) [ -e "$STATE/libpango-1.0-0" ]; exit ;;
esac
echo "python $*" >>"$STATE/calls"
case "$*" in
'-m venv .venv')
    mkdir -p .venv/bin && echo home >.venv/pyvenv.cfg && cp "$0" .venv/bin/python
    cp "$0" .venv/bin/pip && cp "$STATE/docgen" .venv/bin/docgen ;;
*requirements.lock) if [ -e "$STATE/offline" ]; then echo 'ERROR: no route to the packages'; exit 1; fi ;;
esac
"""
APT = """#!/bin/sh
echo "apt-get $*" >>"$STATE/calls"
[ "$1" != update ] || { touch "$STATE/lists"; exit; }
[ -e "$STATE/lists" ] || { echo 'E: Unable to locate package'; exit 100; }
for name in "$@"; do touch "$STATE/$name"; done
"""
DOCGEN = '#!/bin/sh\necho "docgen $*" >>"$STATE/calls"\necho "9 sheets for 3 engines"\n'
VENV = "python -m venv .venv"
PACKAGES = "python -m pip install --quiet --require-hashes --no-deps --only-binary :all: -r requirements.lock"
ITSELF = "python -m pip install --quiet --no-deps --no-build-isolation --editable ."
APT_GET = "apt-get -o DPkg::Lock::Timeout=120 install -y --no-install-recommends "
PANGO = "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
USAGE_START = "usage: ./run VERB\n\n  demo    set up, then print every sheet that is due at the demo club, into out/\n"
MAKING = "Making the virtual environment .venv (Python 3.12)\n"
INSTALLING = "Installing the locked packages (about a minute)\nInstalling the command .venv/bin/docgen\n"


class Machine:
    """A folder with a copy of `run`, a PATH of its own and marks for what is installed."""

    def __init__(self, folder: Path) -> None:
        self.bin = folder / "bin"
        self.state = folder / "state"
        self.club = folder / "a club's folder"
        for made in (self.bin, self.state, self.club):
            made.mkdir()
        for tool in TOOLS:
            self.bin.joinpath(tool).symlink_to(shutil.which(tool) or "missing")
        for name in ("run", "pyproject.toml", "requirements.lock"):
            shutil.copy(ROOT / name, self.club)
        self.state.joinpath("docgen").write_text(DOCGEN, encoding="utf-8")
        self.state.joinpath("docgen").chmod(0o755)
        self.user(1000)

    def program(self, name: str, text: str = "#!/bin/sh\n") -> None:
        self.bin.joinpath(name).write_text(text, encoding="utf-8")
        self.bin.joinpath(name).chmod(0o755)

    def user(self, number: int) -> None:
        self.program("id", f"#!/bin/sh\necho {number}\n")

    def has(self, *marks: str) -> None:
        for mark in marks:
            self.state.joinpath(mark).touch()

    def lacks(self, mark: str) -> None:
        self.state.joinpath(mark).unlink()

    def run(self, *words: str) -> tuple[int, str]:
        """Exit code and everything said; standard output and error in one."""
        environment = {"PATH": str(self.bin), "STATE": str(self.state), "TMPDIR": str(self.state)}
        done = subprocess.run(
            [SHELL, str(self.club / "run"), *words], env=environment, stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd="/",
        )  # fmt: skip
        assert not list(self.state.glob("docgen-run.*")), "a log was left behind"
        return done.returncode, done.stdout

    def calls(self) -> list[str]:
        """How the stand-ins were called since the last look."""
        book = self.state / "calls"
        lines = book.read_text(encoding="utf-8").splitlines() if book.exists() else []
        book.unlink(missing_ok=True)
        return lines


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


@pytest.fixture
def ready(machine: Machine) -> Machine:
    """A Debian machine on which everything is there and set up."""
    machine.program("python3", PYTHON)
    machine.program("apt-get", APT)
    machine.has("python3.12-venv", "libpango-1.0-0")
    assert machine.run("setup") == (0, MAKING + INSTALLING + "Ready. Next: ./run demo\n")
    assert machine.calls() == [VENV, PACKAGES, ITSELF]
    return machine


def too_old(found: str, verb: str) -> str:
    return f"""\
run: docgen needs Python 3.11 or newer; found: {found}.
     Debian 12, Ubuntu 24.04 or newer:  sudo apt-get install -y python3-venv
     Fedora:  sudo dnf install -y python3      Arch:  sudo pacman -S --needed python
     macOS:  brew install python
     Then try again. If one is installed elsewhere:  PYTHON=/path/to/python3.12 ./run {verb}
"""


def test_no_python(machine: Machine) -> None:
    assert machine.run("demo") == (1, too_old("none", "demo"))


def test_a_python_that_is_too_old(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.has("old")
    assert machine.run("test") == (1, too_old("Python 3.9.2", "test"))
    assert machine.calls() == []


def test_a_later_name_of_python_is_found(machine: Machine) -> None:
    machine.program("python3", "#!/bin/sh\nexit 127\n")
    machine.program("python3.13", PYTHON)
    machine.has("python3.12-venv", "libpango-1.0-0")
    assert machine.run("setup")[0] == 0


def test_a_bare_debian_machine_as_root_gets_everything(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.program("apt-get", APT)
    machine.user(0)
    install = f"{APT_GET}python3.12-venv {PANGO}"
    assert machine.run("demo") == (
        0,
        "Python 3.12 lacks the part that makes virtual environments;"
        f" installing: python3.12-venv {PANGO}\n{MAKING}{INSTALLING}" + 7 * "9 sheets for 3 engines\n",
    )
    calls = machine.calls()
    assert calls[:6] == [install, "apt-get update", install, VENV, PACKAGES, ITSELF]
    assert [call.split()[1] for call in calls[6:]] == ["print", "kit", "mat", "labels", "board", "binder", "index"]


def test_a_debian_user_without_rights_reads_one_line(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.program("apt-get", APT)
    machine.program("sudo", "#!/bin/sh\nexit 1\n")
    assert machine.run("demo") == (
        1,
        "run: Python 3.12 lacks the part that makes virtual environments. Run this line once, then ./run demo again:\n"
        f"     sudo apt-get install -y python3.12-venv {PANGO}\n",
    )
    machine.has("python3.12-venv")
    code, words = machine.run("test")
    assert code == 1
    assert words == (
        f"{MAKING}{INSTALLING}"
        "run: The system libraries that draw the pages are missing (Pango and HarfBuzz);"
        " The programs that the tests read PDFs with are missing (poppler and qpdf)."
        " Run this line once, then ./run test again:\n"
        f"     sudo apt-get install -y {PANGO} poppler-utils qpdf\n"
    )
    assert machine.calls() == [VENV, PACKAGES, ITSELF]


def test_sudo_without_a_password_is_used(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.program("apt-get", APT)
    machine.program("sudo", '#!/bin/sh\nshift\n[ "$1" != true ] || exit 0\necho sudo >>"$STATE/calls"\n"$@"\n')
    machine.has("python3.12-venv", "lists")
    assert machine.run("setup")[0] == 0
    assert machine.calls() == [VENV, PACKAGES, ITSELF, "sudo", APT_GET + PANGO]


def test_a_failing_installation_shows_why_and_the_line(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.program("apt-get", "#!/bin/sh\necho 'E: Temporary failure resolving'\nexit 100\n")
    machine.user(0)
    machine.has("python3.12-venv")
    missing = "The system libraries that draw the pages are missing (Pango and HarfBuzz)"
    assert machine.run("demo") == (
        1,
        f"{MAKING}{INSTALLING}{missing}; installing: {PANGO}\n"
        "  | E: Temporary failure resolving\n"
        f"run: {missing}, and installing failed (see above). Run this line once, then ./run demo again:\n"
        f"     apt-get install -y {PANGO}\n",
    )


@pytest.mark.parametrize(
    ("manager", "line"),
    [
        ("dnf", "sudo dnf install -y pango poppler-utils qpdf"),
        ("pacman", "sudo pacman -S --needed pango poppler qpdf"),
        ("zypper", "sudo zypper install libpango-1_0-0 libharfbuzz-subset0 poppler-tools qpdf"),
        ("brew", "brew install pango poppler qpdf"),
        ("other", "Install with your system's package manager: pango poppler-utils qpdf"),
    ],
)
def test_other_systems_read_their_own_line(manager: str, line: str, machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.has("python3.12-venv")
    machine.program(manager, '#!/bin/sh\necho "called $*" >>"$STATE/calls"\n')
    code, words = machine.run("test")
    assert (code, words.splitlines()[-1]) == (1, f"     {line}")
    assert machine.calls() == [VENV, PACKAGES, ITSELF]


def test_set_up_is_done_once(ready: Machine) -> None:
    code, words = ready.run("demo", "--json")
    assert (code, words) == (0, "9 sheets for 3 engines\n")
    (call,) = ready.calls()
    assert call.startswith("docgen ")
    assert call.endswith(" --json")


def test_a_new_lock_installs_again_and_new_metadata_only_the_package(ready: Machine) -> None:
    with (ready.club / "pyproject.toml").open("a", encoding="utf-8") as file:
        file.write("\n")
    assert ready.run("setup")[0] == 0
    assert ready.calls() == [ITSELF]
    with (ready.club / "requirements.lock").open("a", encoding="utf-8") as file:
        file.write("\n")
    assert ready.run("setup")[0] == 0
    assert ready.calls() == [PACKAGES, ITSELF]


def test_an_installation_that_broke_off_is_done_again(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    machine.has("python3.12-venv", "libpango-1.0-0", "offline")
    assert machine.run("demo") == (
        1,
        f"{MAKING}Installing the locked packages (about a minute)\n"
        "  | ERROR: no route to the packages\n"
        "run: The packages could not be installed; the reason stands above.\n"
        "     Is there a network connection? Does this Python have ready-made packages (Python 3.12.1)?\n",
    )
    machine.lacks("offline")
    assert machine.run("demo") == (0, INSTALLING + 7 * "9 sheets for 3 engines\n")


@pytest.mark.parametrize("harm", ["moved", "half made", "hardly begun", "empty", "python gone"])
def test_a_virtual_environment_that_no_longer_works_is_made_anew(harm: str, ready: Machine) -> None:
    if harm == "moved":
        ready.club = ready.club.rename(ready.club.with_name("moved"))
    elif harm == "half made":
        (ready.club / ".venv/bin/pip").unlink()
    elif harm == "hardly begun":
        shutil.rmtree(ready.club / ".venv/bin")
        (ready.club / ".venv/pyvenv.cfg").unlink()
    elif harm == "empty":
        shutil.rmtree(ready.club / ".venv")
        (ready.club / ".venv").mkdir()
    else:
        (ready.club / ".venv/bin/python").unlink()
    assert ready.run("setup") == (0, MAKING + INSTALLING + "Ready. Next: ./run demo\n")
    assert ready.calls() == [VENV, PACKAGES, ITSELF]


def test_a_folder_of_somebody_elses_is_left_alone(machine: Machine) -> None:
    machine.program("python3", PYTHON)
    kept = machine.club / ".venv" / "notes.txt"
    kept.parent.mkdir()
    kept.write_text("mine", encoding="utf-8")
    message = "run: .venv is there, but it is no virtual environment. Move it away, then try again.\n"
    assert machine.run("setup") == (1, message)
    assert kept.read_text(encoding="utf-8") == "mine"


def test_a_verb_that_does_not_exist(machine: Machine) -> None:
    code, words = machine.run("print")
    assert code == 2
    assert words.startswith(f'run: there is no verb "print".\n{USAGE_START}')


@pytest.mark.parametrize("words", [(), ("help",), ("--help",)])
def test_without_a_verb_it_says_how(words: tuple[str, ...], machine: Machine) -> None:
    code, said = machine.run(*words)
    assert code == 0
    assert said.startswith(USAGE_START)


def test_no_benchmark_yet_is_said(ready: Machine) -> None:
    assert ready.run("bench") == (1, "run: There are no benchmarks yet.\n")


def test_benchmarks_end_with_their_own_last_lines(ready: Machine) -> None:
    folder = ready.club / "benchmarks"
    folder.mkdir()
    folder.joinpath("_shared.py").touch()
    folder.joinpath("print_speed.py").touch()
    lines = "".join(f"echo 'line {number} of '\"$*\"\n" for number in range(1, 14))
    counting = PYTHON.replace("#!/bin/sh\n", f'#!/bin/sh\ncase "$*" in benchmarks*) {lines} ;; esac\n', 1)
    ready.club.joinpath(".venv/bin/python").write_text(counting, encoding="utf-8")
    code, words = ready.run("bench")
    assert code == 0
    shown = [f"line {number} of benchmarks/print_speed.py" for number in range(2, 14)]
    assert words.splitlines() == ["", "benchmarks/print_speed.py", *shown]


@pytest.mark.parametrize("script", ["run", ".ci/run"])
def test_the_scripts_are_clean_and_may_be_run(script: str) -> None:
    path = ROOT / script
    assert path.stat().st_mode & stat.S_IXUSR
    program = shutil.which("shellcheck", path=f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}")
    if program is None and (sys.platform, platform.machine()) != ("linux", "x86_64"):
        pytest.skip("no shellcheck comes with the lock on this kind of machine")
    assert program, "run: ./run setup"
    done = subprocess.run([program, path], capture_output=True, text=True, env={**os.environ, "LC_ALL": "C.UTF-8"})
    assert (done.returncode, done.stdout) == (0, "")
