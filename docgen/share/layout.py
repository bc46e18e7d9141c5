"""Plain data as the text of a club's file: one way to write it, short things on one line, comments left at home."""

import json
import re
from collections.abc import Iterator

from docgen.club.teaching import ENDING, page_text
from docgen.club.yamldoc import Data
from docgen.club.yamltext import read_yaml
from docgen.share.container import ParcelRefused

WIDTH = 116
"""Widest line, in characters, where it can be helped."""
_BLOCKS = frozenset({"stages", "steps", "safety"})
"""Lists whose items stand on lines of their own even where they are short."""
_NEW_LINE = "\\n"
"""How a new line is written within quotes."""
_FLOW_PLAIN = re.compile(r"[A-Za-z0-9<][A-Za-z0-9 ./+%=<()_-]*(?<! )")
_LINES = re.compile(r"[^\s][^\n]*\n([^\n]+\n)+")
_BLOCK_PLAIN = re.compile(r"[A-Za-z0-9<(][^:#\t\n]*(?<! )")


def file_text(path: str, data: Data) -> str:
    """What a file that clubs share holds: a page that teaches by its ending, else YAML.

    Errors: Refused ``not-storable``, as :func:`to_text`.
    """
    if not path.endswith(ENDING):
        return to_text(data)
    assert isinstance(data, dict)
    paragraphs = data["paragraphs"]
    assert isinstance(paragraphs, list)
    return page_text(paragraphs)


def to_text(data: Data) -> str:
    """`data` as YAML that :func:`read_yaml` gives back unchanged; the same text for the same data.

    Errors: Refused ``not-storable`` where the reader would refuse the text.
    """
    for plain in (True, False):
        text = "\n".join(_block(data, "", plain)) + "\n"
        document, problems = read_yaml("text", text)
        if document is not None and not problems and document.data == data:
            return text
    reason = problems[0].message if problems else "it would not read back the same"
    raise ParcelRefused("not-storable", f"this cannot be kept in a file: {reason}")


def _block(data: Data, indent: str, plain: bool, key: str = "") -> Iterator[str]:
    if isinstance(data, dict) and data:
        for name, value in data.items():
            yield from _entry(f"{indent}{_scalar(name, False)}:", value, indent, plain, name)
    elif isinstance(data, list) and data:
        for value in data:
            flow = _scalar(value, plain) if isinstance(value, str) else None if key in _BLOCKS else _flow(value, plain)
            if flow is not None and len(indent) + 2 + len(flow) <= WIDTH and _NEW_LINE not in flow:
                yield f"{indent}- {flow}"
            else:
                rows = list(_block(value, f"{indent}  ", plain))
                yield f"{indent}- {rows[0].removeprefix(indent + '  ')}"
                yield from rows[1:]
    else:
        yield indent + (_scalar(data, plain) if isinstance(data, str) else _flow(data, plain))


def _entry(head: str, value: Data, indent: str, plain: bool, name: str) -> Iterator[str]:
    if isinstance(value, str):
        if plain and _LINES.fullmatch(value):
            yield f"{head} |"
            yield from (f"{indent}  {line}" for line in value.splitlines())
        else:
            yield f"{head} {_scalar(value, plain)}"
        return
    flow = _flow(value, plain)
    nested = isinstance(value, dict) and any(isinstance(one, dict) for one in value.values())
    one_line = len(head) + 1 + len(flow) <= WIDTH and (indent or not nested) and _NEW_LINE not in flow
    if not value or (one_line and name not in _BLOCKS):
        yield f"{head} {flow}".rstrip()
    else:
        yield head
        yield from _block(value, f"{indent}  ", plain, name)


def _flow(data: Data, plain: bool) -> str:
    """`data` in brackets, on one line."""
    if isinstance(data, dict):
        return "{" + ", ".join(f"{_scalar(k, False)}: {_flow(v, plain)}" for k, v in data.items()) + "}"
    if isinstance(data, list):
        return "[" + ", ".join(_flow(one, plain) for one in data) + "]"
    if data is None:
        raise ParcelRefused("not-storable", "this cannot be kept in a file: a value is missing")
    return data if plain and _FLOW_PLAIN.fullmatch(data) else _quoted(data)


def _scalar(text: str, plain: bool) -> str:
    if re.fullmatch(r"[a-z0-9][a-z0-9_-]*", text):
        return text
    return text if plain and _BLOCK_PLAIN.fullmatch(text) else _quoted(text)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
