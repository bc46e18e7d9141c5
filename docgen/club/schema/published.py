"""The shapes of a club's files as JSON Schemas, for any editor with a YAML language server.

Dialect: JSON Schema draft-07, the one that every such editor knows. What each key is for stands in ``keys/*.yaml``, one
sentence a key, and becomes its ``description``.
"""

import json
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

from docgen.club.schema.base import Strict
from docgen.club.schema.club import Club
from docgen.club.schema.editors import Shape
from docgen.club.schema.engine import Engine
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import VERBS, Procedure, Sequence, Step
from docgen.club.schema.sidefiles import Glossary, LabelSheets, Stock
from docgen.club.yamltext import read_yaml

FOLDER = "schemas"
"""Where a club's folder keeps them, so that an editor finds them without a network."""


class Kind(NamedTuple):
    """A kind of file that people write: its shape, and where in a club's folder such files lie."""

    shape: type[Strict]
    place: str


KINDS: Mapping[str, Kind] = {
    "club": Kind(Club, "club.yaml"),
    "procedure": Kind(Procedure, "procedures/*.yaml"),
    "sequence": Kind(Sequence, "procedures/*.yaml"),
    "model": Kind(Model, "models/*.yaml"),
    "engine": Kind(Engine, "engines/*/engine.yaml"),
    "stock": Kind(Stock, "stock.yaml"),
    "labels": Kind(LabelSheets, "labels.yaml"),
    "glossary": Kind(Glossary, "glossary.yaml"),
}


def schema_file(kind: str) -> str:
    """Where a kind's schema lies in a club's folder."""
    return f"{FOLDER}/{kind}.json"


def editor_line(kind: str) -> str:
    """The first line of a file of this kind, by which an editor finds the schema.

    >>> editor_line("procedure")
    '# yaml-language-server: $schema=../schemas/procedure.json'
    """
    return f"# yaml-language-server: $schema={'../' * KINDS[kind].place.count('/')}{schema_file(kind)}"


@cache
def schema_text(kind: str) -> str:
    """A kind's schema as the text of its file."""
    return json.dumps(json_schema(kind), indent=1, ensure_ascii=False) + "\n"


@cache
def json_schema(kind: str) -> Shape:
    """A kind's schema. Errors: KeyError for a kind that is not in `KINDS`."""
    made = KINDS[kind].shape.model_json_schema(by_alias=True, ref_template="#/definitions/{model}")
    definitions = made.pop("$defs", {})
    _describe({**definitions, KINDS[kind].shape.__name__: made})
    whole = {"$schema": "http://json-schema.org/draft-07/schema#", "title": f"docgen {kind} file", **_plain(made)}
    return {**whole, "definitions": _plain(definitions)} if definitions else whole


@cache
def sentences() -> Mapping[str, Mapping[str, str]]:
    """What each key is for, by shape and key. Errors: ValueError for a table that cannot be read."""
    found: dict[str, Mapping[str, str]] = {}
    for table in sorted((files("docgen.club.schema") / "keys").iterdir(), key=lambda one: one.name):
        document, problems = read_yaml(table.name, table.read_bytes())
        if document is None or problems or not isinstance(document.data, dict):
            raise ValueError("\n".join(str(problem) for problem in problems) or f"{table.name} is no table")
        found |= {name: _sentences(keys) for name, keys in document.data.items()}
    of_verbs = {key: verb.says for key, verb in VERBS.items()}
    return found | {Step.__name__: {**found[Step.__name__], **of_verbs}}


def _sentences(keys: Any) -> dict[str, str]:
    if not isinstance(keys, dict):
        raise ValueError("a shape's keys and their sentences are a mapping")
    return {key: str(sentence) for key, sentence in keys.items()}


def _describe(shapes: Mapping[str, Shape]) -> None:
    """Give each key its sentence; a key that shapes inherit has it from the one that it stands in."""
    known = {one.__name__: one for one in _below(Strict)}
    for name, shape in shapes.items():
        for key, value in shape.get("properties", {}).items():
            told = (sentences().get(one.__name__, {}).get(key) for one in known[name].__mro__)
            if sentence := next(filter(None, told), None):
                value["description"] = sentence


def _below(shape: type[Strict]) -> Iterator[type[Strict]]:
    for one in shape.__subclasses__():
        yield one
        yield from _below(one)


def _plain(part: Any) -> Any:
    """Without what an editor has no use for; an empty value is let through only where nothing but a list stands."""
    if isinstance(part, list):
        return [_plain(one) for one in part]
    if not isinstance(part, dict):
        return part
    if "properties" in part:
        part = {**part, "properties": {key: _untitled(value) for key, value in part["properties"].items()}}
    told = {key: _plain(value) for key, value in _one_type(part).items() if key != "default"}
    if "description" in told and isinstance(told["description"], str):
        told["description"] = " ".join(told["description"].replace("``", "`").split())
    return {**told, "additionalProperties": False} if "patternProperties" in told else told


def _untitled(value: Any) -> Any:
    return {key: part for key, part in value.items() if key != "title"} if isinstance(value, dict) else value


def _one_type(part: Shape) -> Shape:
    """A choice between a shape and nothing as one shape whose type may be null: plainer, and with better messages."""
    choices = part.get("anyOf")
    if not isinstance(choices, list) or {"type": "null"} not in choices:
        return part
    rest = [one for one in choices if one != {"type": "null"}]
    beside = {key: value for key, value in part.items() if key != "anyOf"}
    if len(rest) > 1 or "type" not in rest[0]:
        return {**beside, **rest[0]} if len(rest) == 1 else {**beside, "anyOf": rest}
    return {**rest[0], **beside}


def each_key(kind: str) -> Iterator[tuple[str, str, Shape]]:
    """Shape, key and the key's own schema of everything that a kind's schema knows."""
    whole = json_schema(kind)
    shapes = {KINDS[kind].shape.__name__: whole, **whole.get("definitions", {})}
    for name, shape in shapes.items():
        for key, value in shape.get("properties", {}).items():
            yield name, key, value
