"""The JSON Schemas take what the reader takes, and refuse what it refuses where a schema can."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft7Validator
from pydantic import TypeAdapter, ValidationError

from docgen.club.read import read_club
from docgen.club.schema import base, engine, model, procedure, sidefiles
from docgen.club.schema.published import KINDS, each_key, json_schema, schema_file, schema_text, sentences
from tests.club.editor import Core, faults, kind_of
from tests.club.wrong_files import CASES
from tests.smallclub import texts, write

ROOT = Path(__file__).resolve().parents[2]
SHARED = ("[!.]*.yaml", "procedures/*.yaml", "models/*.yaml", "engines/*/engine.yaml")


def files(root: Path) -> dict[str, str]:
    """The files of a club that a person writes, by path."""
    found = [path for form in SHARED for path in sorted(root.glob(form))]
    return {path.relative_to(root).as_posix(): path.read_text("utf-8") for path in found}


@pytest.mark.parametrize("kind", KINDS)
def test_each_is_a_schema_and_is_published_as_it_is_made(kind: str) -> None:
    Draft7Validator.check_schema(json_schema(kind))
    published = (ROOT / schema_file(kind)).read_text("utf-8")
    assert published == schema_text(kind), "run: docgen schema --write"
    assert json.loads(published)["$schema"] == "http://json-schema.org/draft-07/schema#"


def test_no_schema_is_left_behind() -> None:
    assert {path.name for path in (ROOT / "schemas").iterdir()} == {f"{kind}.json" for kind in KINDS}


def test_every_key_has_its_sentence_and_no_sentence_is_of_nothing() -> None:
    keys: dict[str, set[str]] = {}
    for kind in KINDS:
        for shape, key, value in each_key(kind):
            keys.setdefault(shape, set()).add(key)
            assert value.get("description", "").endswith("."), f"{shape}.{key} says nothing"
    keys["Item"] = keys["Part"] & keys["Fastener"]
    idle = [f"{name}.{key}" for name, told in sentences().items() for key in told if key not in keys.get(name, ())]
    assert idle == []


def test_every_file_of_the_demo_club_is_right() -> None:
    found = files(ROOT)
    assert len(found) > 90
    assert {path: said for path, text in found.items() if (said := list(faults(kind_of(path, text), text)))} == {}


def test_every_file_of_the_small_club_is_right() -> None:
    assert {path: list(faults(kind_of(path, text), text)) for path, text in texts().items()} == {
        path: [] for path in texts()
    }


READERS_AFFAIR = {
    "text cut by a hash", "duplicate key", "anchor", "tag",  # how the text is written, not what it says
    "range upside down",  # arithmetic
    "unknown fastener", "part tightened", "unknown material", "unknown tool", "unknown limit",  # what other files say
    "unknown name in the text", "brace left open", "more members than counted", "unknown equipment",
    "message tied to no step", "behind itself", "name differs from file", "seal on a part without",
}  # fmt: skip
"""Mistakes that no schema can see."""


def test_which_wrong_files_a_schema_catches() -> None:
    missed = set()
    for case, (path, right, wrong) in CASES.items():
        text = texts()[path].replace(right, wrong, 1)
        try:
            said = list(faults(kind_of(path, text), text))
        except yaml.YAMLError:
            said = ["no YAML"]
        missed |= set() if said else {case}
    assert missed == READERS_AFFAIR
    assert (len(CASES), len(CASES) - len(missed)) == (48, 30)


KIND_OF_FIELD: dict[str, tuple[Any, str]] = {
    "text": (base.Text, r"[a-z0-9. ]{1,5}|true|007|1e3"),
    "name": (base.Name, r"[a-zA-Z0-9_-]{1,6}|[0-9]{1,3}|true"),
    "member": (base.Member, r"[a-z0-9-]{1,4}(/[0-9]{1,3})?"),
    "flag": (base.Flag, r"true|false|yes|no|on|1|True"),
    "whole": (base.Whole, r"-?[0-9]{1,8}(\.[05])?"),
    "day": (base.Day, r"20[0-9]{2}-[01][0-9]-[0-3][0-9]|[0-9]{1,2}\.[0-9]\.20[0-9]{2}"),
    "money": (base.Money, r"-?[0-9]{1,4}(\.[0-9]{1,3})?|[0-9],[0-9]"),
    "quantity": (base.AnyQuantity, r"[+-]?[0-9]{1,3}(\.[0-9]{1,2})? ?(mm|N\.m|Nm|h|deg|%|:1|)"),
    "time": (base.Time, r"-?[0-9]{1,3}(\.[0-9])? ?(h|min|s|mm|)"),
    "band": (base.AnyBand, r"(<= ?|>= ?|[0-9]\.\.)?[0-9]{1,2}(\.[0-9])? ?(mm|bar|)( ?\+/- ?[0-9]( mm| bar| %)?)?"),
    "torque": (base.TorqueBand, r"(<=|[0-9]\.\.)?[0-9]{1,2} (N\.m|lbf\.in|mm)( \+/- [0-9] ?(%|N\.m))?"),
    "engine": (engine.EngineNumber, r"[A-Za-z0-9]{1,7}"),
    "code": (procedure.Code, r"[A-Za-z]{2,4}"),
    "drive": (model.Drive, r"(hex|hex-socket|square|plug|cross|hexalobular|slot|hand)( [0-9]{1,3}(\.5)?)?( mm)?"),
    "thread": (model.Thread, r"M[0-9]{1,2}x?(1|1\.25)?( left)?"),
    "held": (sidefiles.Held, r"-?[0-9]{1,3}(\.5)?( g| ml| pieces)?"),
    "shape": (model.ShapeKind, r"washer|nut|block|brick"),
}
ONLY_THE_READER = {"day": "an impossible day", "quantity": "less than nothing", "time": "less than nothing",
                   "held": "less than nothing", "band": "arithmetic", "torque": "arithmetic"}  # fmt: skip
"""Kinds of which the reader knows more than a form can say."""


@pytest.mark.parametrize("kind", KIND_OF_FIELD)
@pytest.mark.parametrize("quoted", [False, True])
@given(data=st.data())
def test_a_schema_takes_what_the_reader_takes(kind: str, quoted: bool, data: st.DataObject) -> None:
    adapter = TypeAdapter(KIND_OF_FIELD[kind][0])
    text = data.draw(st.from_regex(re.compile(KIND_OF_FIELD[kind][1], re.ASCII), fullmatch=True)).strip()
    plain = not text.startswith((">", "...", "---"))  # which would begin a block of text, or end the document
    value = yaml.load(text if plain and not quoted else json.dumps(text), Core)
    try:
        adapter.validate_python(text)
        right = True
    except ValidationError:
        right = False
    seen = Draft7Validator(adapter.json_schema()).is_valid(value)
    if right:
        assert seen, f"the reader takes {value!r}"
    elif quoted and kind not in ONLY_THE_READER:
        assert not seen, f"the reader refuses {value!r}"


@pytest.mark.parametrize(("path", "right", "wrong"), [
    ("engines/7A/engine.yaml", "serial: W80-0007", "serial:"),
    ("procedures/rotor-service.yaml", "every: {hours: 5 h, months: 6}", "every:"),
    ("procedures/rotor-service.yaml", "author: A. Tester", "author:"),
    ("models/willow-80.yaml", "life: 10 h", "life: "),
    ("club.yaml", "paper: A4", "paper:"),
])  # fmt: skip
def test_a_key_with_nothing_written_is_refused_by_both(path: str, right: str, wrong: str, tmp_path: Path) -> None:
    text = texts()[path]
    assert right in text
    text = text.replace(right, wrong)
    (problem,) = read_club(write(tmp_path, {path: text})).problems
    assert (problem.name, problem.message) == ("empty-value", "nothing is written here")
    assert list(faults(kind_of(path, text), text)) != []
