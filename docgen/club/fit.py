"""A read file against its shape: every pydantic finding becomes a Problem at its place in the file."""

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from docgen.club.problem import Problem, did_you_mean
from docgen.club.yamldoc import Data, Document, Loc

Shape = TypeVar("Shape", bound=BaseModel)


def fit(document: Document, shape: type[Shape]) -> tuple[Shape | None, list[Problem]]:
    """The file as `shape`, or the problems that keep it from being one."""
    if not isinstance(document.data, dict):
        kind = shape.__name__.lower()
        message = f"{'an' if kind[0] in 'aeiou' else 'a'} {kind} file is lines of a key, a colon and a value"
        first = next(iter(shape.model_fields), "title")
        return None, [document.problem((), "not-a-mapping", message, f"begin with a line  {first}: ...")]
    value, problems = None, []
    try:
        value = shape.model_validate(document.data)
    except ValidationError as error:
        problems = [_problem(document, shape, one) for one in error.errors(include_url=False)]
    told = {problem.line for problem in problems}
    problems += [one for one in _nothing_written(document) if one.line not in told]
    return (None if problems else value), problems


def _nothing_written(document: Document) -> Iterator[Problem]:
    """Each key with nothing behind it: taken for a key left out, it would leave a job undone or a figure unprinted."""
    waiting: list[tuple[Loc, Data]] = [((), document.data)]
    for loc, data in waiting:
        for key, value in data.items() if isinstance(data, dict) else enumerate(data or ()):
            if value is None:
                hint = "write the value, or leave the key out"
                yield document.problem((*loc, key), "empty-value", "nothing is written here", hint)
            elif not isinstance(value, str):
                waiting.append(((*loc, key), value))


def _problem(document: Document, shape: type[BaseModel], error: ErrorDetails) -> Problem:
    loc = tuple(part for part in error["loc"] if part != "[key]")
    kind, context = error["type"], error.get("ctx", {})
    last = str(loc[-1]) if loc else ""
    if kind == "extra_forbidden":
        known = _keys_at(shape, loc[:-1])
        return document.problem(
            loc, "unknown-key", f'"{last}" is not a key known here', did_you_mean(last, known), key=True
        )
    if kind == "missing":
        place = f" in {loc[-2]}" if len(loc) > 1 and isinstance(loc[-2], str) else ""
        return document.problem(
            loc[:-1], "missing-key", f'the key "{last}" is missing{place}', f"add a line  {last}: ...", key=True
        )
    if kind in ("model_type", "dict_type", "model_attributes_type"):
        return document.problem(
            loc, "not-a-mapping", f'"{last}" needs keys and values of its own', "write  key: value  lines below it"
        )
    if kind in ("tuple_type", "list_type"):
        return document.problem(
            loc, "not-a-list", f'"{last}" is a list', "write  - item  lines below it, or [one, two]"
        )
    if kind == "too_short":
        return document.problem(loc, "empty-list", f'"{last}" has nothing in it', "write at least one item")
    if kind == "literal_error":
        message = f'"{error["input"]}" is not one of the words known here'
        return document.problem(loc, "unknown-word", message, f"Known here: {context.get('expected', '')}.")
    if kind == "unknown-word":
        return document.problem(loc, kind, context["message"], did_you_mean(context["given"], context["known"]))
    message = context.get("message") or error["msg"]
    return document.problem(loc, kind.replace("_", "-"), message, context.get("hint", ""), key="[key]" in error["loc"])


def _keys_at(shape: Any, loc: Loc) -> Iterable[str]:
    """The keys that the shape knows at `loc`."""
    for part in loc:
        shape = _inner(shape, part)
    model = _model_in(shape)
    return [field.alias or name for name, field in model.model_fields.items()] if model else []


def _inner(shape: Any, part: str | int) -> Any:
    model = _model_in(shape) if isinstance(part, str) else None
    if model is not None:
        for name, field in model.model_fields.items():
            if part in (name, field.alias):
                return field.annotation
    return next((one for one in _flat(shape) if _model_in(one)), None)


def _flat(shape: Any) -> Iterable[Any]:
    args = get_args(shape)
    return [shape] if not args else [one for arg in args for one in _flat(arg)]


def _model_in(shape: Any) -> type[BaseModel] | None:
    return next((one for one in _flat(shape) if isinstance(one, type) and issubclass(one, BaseModel)), None)
