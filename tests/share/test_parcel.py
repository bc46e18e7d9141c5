"""A parcel is read with nothing of it believed: what its manifest says is held against its files."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.club.content import data_digest
from docgen.club.read import read_club
from docgen.club.yamltext import read_yaml
from docgen.share.container import ParcelRefused, from_bytes, to_bytes
from docgen.share.layout import to_text
from docgen.share.pack import pack
from docgen.share.parcel import MAX_ITEMS, MAX_LIST, MAX_SHARED, MAX_STEPS, FaultyParcel, open_parcel
from tests.smallclub import texts, write

JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
PACK_AGAIN = "ask the sender to pack it again with  docgen pack"
Files = dict[str, bytes]


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Files:
    root = write(tmp_path_factory.mktemp("club"))
    return from_bytes(pack(read_club(root), ["rotor-service"], engines=["7A"]).data)


def said(files: Files) -> str:
    with pytest.raises(ParcelRefused) as caught:
        open_parcel("x.parcel", to_bytes(files))
    if isinstance(caught.value, FaultyParcel):
        return "\n".join(map(str, caught.value.problems))
    return str(caught.value)


def swapped(path: str, old: str, new: str) -> Callable[[Files], Files]:
    """The files with something in one of them written otherwise; it must stand there."""

    def change(files: Files) -> Files:
        text = files[path].decode()
        assert old in text
        return {**files, path: text.replace(old, new).encode()}

    return change


def without(path: str) -> Callable[[Files], Files]:
    return lambda files: {one: data for one, data in files.items() if one != path}


def also(path: str, data: bytes = b"x: 1\n") -> Callable[[Files], Files]:
    return lambda files: {**files, path: data}


def test_a_good_one_is_read(good: Files) -> None:
    parcel = open_parcel("x.parcel", to_bytes(good))
    assert (parcel.sender, parcel.language) == ("Test Bench Club", "en")
    assert list(parcel.shared) == [MODEL, JOB]
    assert list(parcel.engines) == ["engines/7A/engine.yaml"]
    assert sorted(parcel.registers.materials) == ["fluid", "lock", "paste"]


REFUSED = {
    "no manifest": (
        without("manifest.yaml"), "no-manifest: the archive holds no manifest.yaml, so it is not a parcel",
        "give the file that docgen pack wrote"),
    "a file too many": (
        also("procedures/more.yaml"),
        'stray-file: the parcel holds "procedures/more.yaml", of which the manifest says nothing',
        PACK_AGAIN),
    "a page template": (
        also("templates/checklist.html.j2", b"{{ 1 }}"),
        'stray-file: the parcel holds "templates/checklist.html.j2", which is none of the kinds that a'
        " parcel carries", PACK_AGAIN),
    "a style": (also("style.css", b"*{}"),
                'stray-file: the parcel holds "style.css", which is none of the kinds that a parcel carries',
        PACK_AGAIN),
    "a club's own file": (
        also("club.yaml"),
        'stray-file: the parcel holds "club.yaml", which is none of the kinds that a parcel carries',
        PACK_AGAIN),
    "origins of its own": (
        also("shared/origins.yaml"),
        'stray-file: the parcel holds "shared/origins.yaml", which is none of the kinds that a parcel'
        " carries", PACK_AGAIN),
    "a record nobody named": (
        also("engines/9X/engine.yaml"),
        'stray-file: the parcel holds "engines/9X/engine.yaml", of which the manifest says nothing',
        PACK_AGAIN),
    "a file too few": (without(JOB), f'file-missing: the parcel lacks "{JOB}", which its manifest names', PACK_AGAIN),
    "a changed torque": (
        swapped(MODEL, "34 N.m", "84 N.m"),
        f"digest-differs: {MODEL} in the parcel is not what the manifest says", PACK_AGAIN),
    "a changed register": (
        swapped("registers.yaml", "24 h", "1 h"),
        "digest-differs: registers.yaml in the parcel is not what the manifest says", PACK_AGAIN),
    "a changed record": (
        swapped("engines/7A/engine.yaml", "7A", "7A "),
        "digest-differs: engines/7A/engine.yaml in the parcel is not what the manifest says", PACK_AGAIN),
    "another author": (
        swapped("manifest.yaml", "A. Tester", "A. Nobody"),
        f"manifest-differs: the manifest says something else of {JOB} than the file says of itself",
        PACK_AGAIN),
    "another revision": (
        swapped("manifest.yaml", "    revision: 3\n", "    revision: 9\n"),
        f"manifest-differs: the manifest says something else of {JOB} than the file says of itself",
        PACK_AGAIN),
    "a need hidden": (
        swapped("manifest.yaml", "    equipment: [rotor-drive]\n", ""),
        f"manifest-differs: the manifest says something else of {JOB} than the file says of itself",
        PACK_AGAIN),
    "a comment": (swapped(JOB, "procedure:", "# hello\nprocedure:"),
                  f"file-not-as-packed: {JOB} in the parcel is not laid out as docgen pack does it", PACK_AGAIN),
}  # fmt: skip


@pytest.mark.parametrize(("change", "message", "hint"), REFUSED.values(), ids=REFUSED)
def test_what_is_refused(good: Files, change: Callable[[Files], Files], message: str, hint: str) -> None:
    assert said(change(good)) == f"{message}\n  to mend: {hint}"


FAULTY = {
    "a tag": (swapped(JOB, "title: Rotor", "title: !!python/object Rotor"), [
        'x.parcel/procedures/rotor-service.yaml:2:8 reserved-start: "!!python/object" would change the kind']),
    "digits that only look like digits": (swapped(MODEL, "34 N.m", "３４ N.m"), [
        "x.parcel/models/willow-80.yaml:"]),
    "a hidden turn of the writing": (swapped(JOB, "title: Rotor", "title: Ro\u202etor"), [
        "x.parcel/procedures/rotor-service.yaml:2:10 "]),
    "an unknown key": (swapped(JOB, "code: ROT", "code: ROT\nrun: rm"), [
        'x.parcel/procedures/rotor-service.yaml:4:1 unknown-key: "run" is not a key known here']),
    "a newer format": (swapped("manifest.yaml", "parcel: 1", "parcel: 2"), [
        'x.parcel/manifest.yaml:1:9 unknown-word: "2" is not one of the words known here']),
    "a record outside the engines": (swapped("manifest.yaml", "engines/7A/engine.yaml", "engines/7A/other.yaml"), [
        'bad-file-name: "engines/7A/other.yaml" is not a file of an engine\'s record']),
    "a sender who would write on the screen": (swapped("manifest.yaml", "from: Test Bench Club", 'from: "a\\nb"'), [
        "bad-sender: a club's name has at most 80 characters, all of them printable"]),
    "a sender without end": (swapped("manifest.yaml", "from: Test Bench Club", f"from: {'a' * 81}"), [
        "bad-sender: a club's name has at most 80 characters, all of them printable"]),
    "a name that is not the file's": (swapped(JOB, "procedure: rotor-service", "procedure: rotor-other"), [
        'name-differs: the file is called "rotor-service" but says procedure: rotor-other']),
}  # fmt: skip


@pytest.mark.parametrize(("change", "parts"), FAULTY.values(), ids=FAULTY)
def test_faults_inside_have_a_place(good: Files, change: Callable[[Files], Files], parts: list[str]) -> None:
    found = said(change(good))
    for part in parts:
        assert part in found


def test_a_register_that_gives_what_is_the_clubs_own(good: Files) -> None:
    priced = swapped("registers.yaml", "kind: sealant}", "kind: sealant, price: 1.00}")(good)
    digest = re.findall(r"registers: ([0-9a-f]{64})", good["manifest.yaml"].decode())[0]
    document, _ = read_yaml("registers.yaml", priced["registers.yaml"])
    assert document is not None
    lying = swapped("manifest.yaml", digest, data_digest(document.data))(priced)
    assert said(lying) == (
        f"private-register: registers.yaml in the parcel gives price of paste, which is the club's own affair\n"
        f"  to mend: {PACK_AGAIN}"
    )


def packed(root: Path, changes: dict[str, str | None]) -> Files:
    return from_bytes(pack(read_club(write(root, changes)), ["rotor-service"]).data)


STEPS = "".join(f"      - do: Look, and look again, {number}.\n" for number in range(MAX_STEPS // 2))


def test_more_steps_than_are_taken(tmp_path: Path) -> None:
    stages = "".join(f"  - stage: {name}\n    steps:\n{STEPS}" for name in "AB")
    text = texts()[JOB].replace("closing:", f"{stages}closing:")
    assert said(packed(tmp_path, {JOB: text})) == (
        f"too-many-steps: {JOB} in the parcel has {MAX_STEPS + 18} steps; the most that are taken are {MAX_STEPS}\n"
        "  to mend: ask the sender to cut it into several jobs"
    )


def test_a_longer_list_than_is_taken(tmp_path: Path) -> None:
    long = ", ".join(["Engine cold."] * (MAX_LIST + 1))
    text = texts()[JOB].replace("[Engine cold and extinguisher near.]", f"[{long}]")
    assert said(packed(tmp_path, {JOB: text})) == (
        f"list-too-long: {JOB} in the parcel has a list of {MAX_LIST + 1} things; the most that are taken are "
        f"{MAX_LIST}\n"
        f"  to mend: {PACK_AGAIN}"
    )


def test_more_parts_than_are_taken(tmp_path: Path) -> None:
    text = texts()[MODEL].replace("parts:\n", "parts:\n  pins: {count: 1000}\n")
    assert said(packed(tmp_path, {MODEL: text})) == (
        f"too-many-parts: {MODEL} in the parcel has 1008 parts and fasteners; the most that are taken are {MAX_ITEMS}\n"
        f"  to mend: {PACK_AGAIN}"
    )


def test_more_files_than_are_taken(good: Files) -> None:
    names = [f"procedures/job-{number}.yaml" for number in range(MAX_SHARED)]
    digest = "0" * 64
    lines = "".join(f'  "{name}": {{digest: {digest}, versions: [{{digest: {digest}}}]}}\n' for name in names)
    files = swapped("manifest.yaml", "files:\n", f"files:\n{lines}")(good) | dict.fromkeys(names, b"x: 1\n")
    document, problems = read_yaml("manifest.yaml", files["manifest.yaml"])
    assert document is not None
    assert not problems
    files["manifest.yaml"] = to_text(document.data).encode()
    assert said(files) == (
        f"too-many-files: the parcel holds {MAX_SHARED + 2} jobs, models and pages; the most that are read are "
        f"{MAX_SHARED}\n"
        "  to mend: ask the sender to pack fewer jobs into one parcel"
    )
