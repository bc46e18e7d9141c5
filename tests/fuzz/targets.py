"""What is fuzzed: a function a reader, which takes any bytes and fails by raising something it should not.

Each holds its reader to what it promises: it reads or refuses, in its own words, and never in any other way. The same
functions try in `./run test` what fuzzing found once (:mod:`tests.fuzz.test_fuzz_found`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeVar

from docgen.club.fit import fit
from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure
from docgen.club.yamltext import MAX_PROBLEMS, read_yaml
from docgen.job.number import NumberError, parse_number
from docgen.returns.diagnostic import Refused as PaperRefused
from docgen.returns.form import MAX_FIELDS, MAX_VALUE, NUMBER, read_form
from docgen.share.container import ParcelRefused, from_bytes, to_bytes
from docgen.share.pack import pack
from docgen.share.parcel import FaultyParcel, open_parcel
from docgen.trade.checkchar import is_valid
from tests.returns.papers import saved, with_fields
from tests.smallclub import texts, write


def yaml_reader(data: bytes) -> None:
    """The reader and the shapes behind it: every problem has a place in the file, and none is a library's words."""
    document, problems = read_yaml("f.yaml", data)
    assert problems == sorted(problems)
    assert len(problems) <= MAX_PROBLEMS + 1
    assert document is not None or problems
    for shape in (Procedure, Model, Service) if document is not None else ():
        value, found = fit(document, shape)
        assert value is not None or found
        problems += found
    for problem in problems:
        text = str(problem)
        assert all(line.isprintable() for line in text.split("\n")), ascii(text)
        assert len(text) < 6000
        assert problem.message
        assert problem.line >= 0


Made = TypeVar("Made")
Fault = TypeVar("Fault", bound=Exception)


def _either(read: Callable[[], Made], refusal: type[Fault]) -> tuple[Made | None, Fault | None]:
    """What was read, or the refusal; anything else that is raised goes on."""
    try:
        return read(), None
    except refusal as refused:
        return None, refused


JOB = """\
procedure: rotor-service
title: Rotor
code: ROT
revision: 3
dated: 2030-01-15
stages:
  - stage: Close
    steps:
      - do: Tighten the rotor nut.
        tightens: [rotor-nut]
"""
TYPE = """\
model: willow-80
title: Willow 80
manual: The workshop book
equipment: [rotor-drive]
parts:
  rotor: {held_by: [rotor-nut]}
fasteners:
  rotor-nut: {thread: M10x1.25, drive: hex 17 mm, torque: 34 N.m +/- 10 %, locker: lock, source: maker}
"""


@cache
def _good() -> dict[str, bytes]:
    """The files of a good parcel, as small as they can be, so that many can be tried."""
    changes: dict[str, str | None] = {"procedures/rotor-service.yaml": JOB, "models/willow-80.yaml": TYPE}
    changes |= {f"engines/{number}/engine.yaml": None for number in ("7A", "8B")}
    with TemporaryDirectory() as folder:
        return from_bytes(pack(read_club(write(Path(folder), changes)), ["rotor-service"]).data)


def parcel_reader(data: bytes) -> None:
    """A parcel as it comes; or, behind a first byte that is odd, a good parcel with one file's content changed."""
    if data[:1] and data[0] & 1:
        files = _good()
        path = sorted(files)[data[0] // 2 % len(files)]
        parcel = to_bytes({**files, path: data[1:]})
    else:
        parcel = data[1:]
    opened, refused = _either(lambda: open_parcel("p", parcel), ParcelRefused)
    if refused is not None:
        assert refused.message.isprintable(), ascii(refused.message)
        assert refused.hint
        if isinstance(refused, FaultyParcel):
            assert refused.problems
            assert all(str(problem) for problem in refused.problems)
    elif opened is not None:
        assert to_bytes(from_bytes(parcel)) == parcel
        assert opened.sender


def form_reader(data: bytes) -> None:
    """A PDF as it comes; or, behind a first byte that is odd, one whose fields hold what follows."""
    paper = data[1:]
    if data[:1] and data[0] & 1:
        paper = _filled(data[1:])
    form, refused = _either(lambda: read_form(paper), PaperRefused)
    if refused is not None:
        assert refused.said.weight == "refused"
        assert refused.said.hint
    elif form is not None:
        assert len(form.fields) <= MAX_FIELDS
        assert all(len(text) <= MAX_VALUE for text in form.fields.values())
        assert all(isinstance(text, str) for pair in form.fields.items() for text in pair)


def _filled(data: bytes) -> bytes:
    import pikepdf

    words = [part.decode("utf-8", "replace").replace("\x00", "") for part in data.split(b"\n")][:40]
    pairs = list(zip(words[::2], words[1::2], strict=False))
    kinds = (pikepdf.Name.Tx, pikepdf.Name.Btn)
    fields = [
        pikepdf.Dictionary(Subtype=pikepdf.Name.Widget, FT=kinds[len(name) % 2], T=name, V=pikepdf.String(value))
        for name, value in pairs
    ]
    return saved(lambda pdf: with_fields(pdf, *fields))


def number_parser(data: bytes) -> None:
    """What is read as a number is one as printed, with its check character, and is found in the text of a page."""
    text = data.decode("utf-8", "replace")
    number, error = _either(lambda: parse_number(text), NumberError)
    if error is not None:
        assert str(error).isprintable(), ascii(str(error))
        assert len(str(error)) < 500
    elif number is not None:
        assert number.text == text.strip().upper()
        assert is_valid(number.text.replace("-", ""))
        assert NUMBER.findall(f"page {number.text} of 2") == [number.text]


@dataclass(frozen=True)
class Target:
    """A reader, what it is fuzzed from, and the longest input tried."""

    reader: Callable[[bytes], None]
    seeds: Callable[[], list[bytes]]
    longest: int


def _parcels() -> list[bytes]:
    changed = [bytes([2 * n + 1]) + data for n, (_, data) in enumerate(sorted(_good().items()))]
    return [b"\x00" + to_bytes(_good()), *changed]


def _forms() -> list[bytes]:
    script = saved(lambda pdf: None)
    fields = b"\x01measure-gap\n0.30\ndone-by\nBo Lind\nfindings\nnone"
    return [fields, b"\x00" + _filled(fields[1:]), b"\x00" + script]


TARGETS = {
    "yaml": Target(yaml_reader, lambda: [text.encode() for text in texts().values()], 8192),
    "parcel": Target(parcel_reader, _parcels, 16384),
    "form": Target(form_reader, _forms, 8192),
    "number": Target(number_parser, lambda: [b"017-CLU-04-003-C2-R", b" 7a-rot-03-001-s1-i\n"], 200),
}
