"""What an editor sees in a club's file: YAML by the core schema (YAML 1.2.2, 10.3.2), held against a JSON Schema."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import yaml
from jsonschema import Draft7Validator

from docgen.club.schema.published import json_schema


class Core(yaml.SafeLoader):
    """Plain scalars as YAML 1.2 reads them: no dates, no yes and no, no base 60."""

    yaml_implicit_resolvers: dict[str, Any] = {}


for _tag, _form, _first in (
    ("null", r"|~|null|Null|NULL", [*"~nN", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", [*"tTfF"]),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", [*"-+0123456789"]),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?|[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)",
     [*"-+.0123456789"]),
):  # fmt: skip
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"^(?:{_form})$"), _first)


def whole(text: str) -> int:
    """A whole number as the core schema writes it: also in eights and sixteens."""
    return int(text, 0) if text[:2] in ("0o", "0x") else int(text)


Core.add_constructor("tag:yaml.org,2002:int", lambda loader, node: whole(loader.construct_scalar(node)))


@cache
def faults(kind: str, text: str) -> tuple[str, ...]:
    """What the schema has against a file: the way to it and the message. Errors: yaml.YAMLError."""
    found = Draft7Validator(json_schema(kind)).iter_errors(yaml.load(text, Core))
    return tuple(f"{'/'.join(map(str, error.absolute_path))}: {error.message[:300]}" for error in found)


def kind_of(path: str, text: str) -> str:
    """Which schema a file of a club goes by."""
    if path.startswith("procedures/"):
        return "sequence" if re.search("^sequence:", text, re.MULTILINE) else "procedure"
    return "engine" if path.startswith("engines/") else path.partition("/")[0].removesuffix(".yaml").removesuffix("s")
