"""The house keeps its own rules: pins, licences, file sizes, decision pages, and what a wheel carries."""

from __future__ import annotations

import ast
import hashlib
import re
import socket
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
NOT_OURS = {".git", ".venv", ".venv.old", "out", "build", "dist", "__pycache__"}
BINARY = {".pdf", ".png", ".jpg", ".ttf", ".otf"}


def files(suffix: str = "", under: str = "") -> list[Path]:
    """Files of the working tree, generated ones left out; never an empty list."""
    found = [
        path
        for path in sorted((ROOT / under).rglob(f"*{suffix}"))
        if path.is_file()
        and not NOT_OURS.intersection(parts := path.relative_to(ROOT).parts)
        and not any(part.endswith(("_cache", ".egg-info")) or part == ".hypothesis" for part in parts)
    ]
    assert found, f"no {suffix} files under {under or 'the root'}"
    return found


def names(requirements: list[str]) -> set[str]:
    return {canonicalize_name(Requirement(text).name) for text in requirements}


RUNTIME = names(PROJECT["project"]["dependencies"])
CAMERA = names(PROJECT["project"]["optional-dependencies"]["camera"])
DEVELOPMENT = names(PROJECT["dependency-groups"]["dev"]) | CAMERA


# --- packages ---------------------------------------------------------------------------------------------------------


def lock_entries() -> Iterator[tuple[Requirement, list[str]]]:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    for line in text.splitlines():
        if line and not line.lstrip().startswith("#"):
            requirement, *hashes = re.split(r"\s+--hash=", line.strip())
            yield Requirement(requirement), hashes


def test_the_lock_pins_everything_with_digests_and_names_no_host() -> None:
    entries = list(lock_entries())
    assert len(entries) > 40
    for requirement, hashes in entries:
        assert [(spec.operator, "*" in spec.version) for spec in requirement.specifier] == [("==", False)], requirement
        assert hashes, requirement
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", text) for text in hashes), requirement
    assert "://" not in (ROOT / "requirements.lock").read_text(encoding="utf-8")


def test_the_lock_covers_what_the_project_declares() -> None:
    locked = {canonicalize_name(requirement.name) for requirement, _ in lock_entries()}
    assert sorted((RUNTIME | DEVELOPMENT) - locked) == [], "run: ./run lock"
    extra = PROJECT["project"]["optional-dependencies"]["camera"]
    for text in PROJECT["project"]["dependencies"] + extra + PROJECT["dependency-groups"]["dev"]:
        wanted = Requirement(text)
        for requirement, _ in lock_entries():
            if canonicalize_name(requirement.name) == canonicalize_name(wanted.name):
                (pin,) = requirement.specifier
                assert wanted.specifier.contains(pin.version), f"{text} is locked at {pin.version}; run: ./run lock"


def test_what_is_tested_here_is_what_is_locked() -> None:
    wrong = []
    for requirement, _ in lock_entries():
        if requirement.marker is None or requirement.marker.evaluate():
            (pin,) = requirement.specifier
            here = metadata.version(requirement.name)
            if Version(here) != Version(pin.version):
                wrong.append(f"{requirement.name} {here}, locked {pin.version}")
    assert wrong == [], "run: ./run setup"


def imported(path: Path, packages: set[str]) -> set[str]:
    """Top names that a file imports, anywhere in it, and the packages it names in text to open their files (fonts)."""
    top: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            top |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            top.add(node.module.partition(".")[0])
        elif isinstance(node, ast.Constant) and node.value in packages and "_" in str(node.value):
            top.add(str(node.value))
    beside = {other.stem for other in path.parent.iterdir()}
    return top - beside - set(sys.stdlib_module_names) - {"docgen", "tests", "tools", "benchmarks"}


def test_every_package_that_is_imported_is_declared() -> None:
    distributions = metadata.packages_distributions()
    undeclared = []
    for path in files(".py"):
        declared = RUNTIME if path.is_relative_to(ROOT / "docgen") else RUNTIME | DEVELOPMENT
        declared |= CAMERA if path.is_relative_to(ROOT / "docgen" / "camera") else set()
        for name in sorted(imported(path, set(distributions))):
            owners = {canonicalize_name(owner) for owner in distributions.get(name, [])}
            if not owners & declared:
                undeclared.append(f"{path.relative_to(ROOT)} imports {name}")
    assert undeclared == []


def test_a_wheel_carries_the_code_its_tables_and_the_templates(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = tmp_path.glob("docgen-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        carried = {name for name in archive.namelist() if ".dist-info/" not in name}
        entry = archive.read(next(name for name in archive.namelist() if name.endswith("entry_points.txt"))).decode()
    expected = {path.relative_to(ROOT).as_posix() for path in files(under="docgen")}
    expected |= {f"docgen/{path.relative_to(ROOT).as_posix()}" for path in files(under="templates")}
    shipped = [*files(under="procedures"), *files(under="models"), ROOT / "club.yaml", ROOT / "glossary.yaml"]
    expected |= {f"docgen/shipped/{path.relative_to(ROOT).as_posix()}" for path in shipped}
    assert carried == expected
    assert entry == "[console_scripts]\ndocgen = docgen.cli:main\n"


# --- files ------------------------------------------------------------------------------------------------------------


def test_modules_stay_short() -> None:
    lengths = {str(path.relative_to(ROOT)): path.read_bytes().count(b"\n") for path in files(".py", "docgen")}
    assert {name: length for name, length in lengths.items() if length > 500} == {}


def test_no_file_leads_to_somebodys_own_machine() -> None:
    home = re.compile(r"(?<![\w.~/])/(?:work|root|home|Users)/[a-z]\w*")
    led = []
    for path in files():
        if path.suffix not in BINARY:
            for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                led += [f"{path.relative_to(ROOT)}:{number} {found}" for found in home.findall(line)]
    assert led == []


def test_line_ends_are_line_feeds_and_text_is_utf8() -> None:
    wrong = [path for path in files() if path.suffix not in BINARY and b"\r" in path.read_bytes()]
    assert wrong == []
    for path in files():
        if path.suffix not in BINARY:
            path.read_text(encoding="utf-8")


def test_out_is_kept_as_a_folder_and_nothing_in_it() -> None:
    assert (ROOT / "out" / ".gitignore").read_text(encoding="utf-8") == "*\n!.gitignore\n"


def test_the_licences_are_whole() -> None:
    code = (ROOT / "LICENSE").read_text(encoding="utf-8")
    assert code.startswith("MIT License\n\nCopyright (c) 2026 the docgen authors\n")
    assert PROJECT["project"]["license"] == "MIT"
    # The plain text of CC BY 4.0 as its publisher gives it, unchanged to the last byte.
    procedures = (ROOT / "procedures" / "LICENSE").read_bytes()
    assert procedures.startswith(b"Attribution 4.0 International\n")
    assert hashlib.sha256(procedures).hexdigest() == "fd3a263fe19ed8faa9068b43abaebafc02c77897b0c6fc09abc04bb592e5f16e"


PARTS = ["# ", "Date: ", "Status: ", "**Why it came up.**", "**Decided.**", "**Not taken.**", "**Look at it again"]


def test_each_decision_page_has_its_parts_in_order() -> None:
    pages = [path for path in files(".md", "docs/decisions") if path.name != "README.md"]
    assert [int(path.name[:4]) for path in pages] == list(range(1, len(pages) + 1))
    for page in pages:
        text = page.read_text(encoding="utf-8")
        starts = [re.search(rf"^{re.escape(part)}", text, re.MULTILINE) for part in PARTS]
        assert [part for part, found in zip(PARTS, starts, strict=True) if found is None] == [], page.name
        places = [found.start() for found in starts if found]
        assert places == sorted(places), page.name
        assert len(text.splitlines()) <= 60, page.name


def test_the_changelog_has_a_place_for_what_comes_next() -> None:
    headings = re.findall(r"^## (.+)$", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert headings[0] == "Unreleased"


# --- the tests' own fence -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("host", ["192.0.2.1", "example.invalid"])
def test_no_test_reaches_another_machine(host: str) -> None:
    with pytest.raises(Exception, match=f"nothing in docgen uses the network, but this went to {host}") as caught:
        socket.create_connection((host, 80), timeout=1)
    assert type(caught.value).__name__ == "NetworkUsed"
