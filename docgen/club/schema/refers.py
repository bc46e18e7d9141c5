"""What a name in a file refers to: said where its field is written, and found again in whatever was read."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple, get_args, get_origin

from pydantic import BaseModel

from docgen.club.yamldoc import Loc

REGISTERS = ("tools", "gauges", "materials")
"""Those of club.yaml."""


@dataclass(frozen=True)
class Refers:
    """Marks names that are defined elsewhere, ``Annotated[Name, Refers("tool")]``: what they name, in words."""

    what: str


class Reference(NamedTuple):
    """A name, where it stands, and what it must name; `key`: it is a mapping's key."""

    loc: Loc
    name: str
    what: str
    key: bool = False

    @property
    def registers(self) -> list[str]:
        """The registers of club.yaml that may define it."""
        return [register for register in REGISTERS if register[:-1] in self.what.split(" or ")]


class _Field(NamedTuple):
    """A field whose values (or whose keys, of a mapping) are such names, or shapes that hold some."""

    name: str
    key: str
    what: str
    what_keys: str


def references(value: BaseModel, loc: Loc = ()) -> Iterator[Reference]:
    """Every name in what was read that is defined elsewhere, in the order of its fields."""
    for field in _fields(type(value)):
        if held := getattr(value, field.name):
            yield from _within(field, held, (*loc, field.key))


def _within(field: _Field, held: Any, loc: Loc) -> Iterator[Reference]:
    if isinstance(held, str):
        if field.what:
            yield Reference(loc, held, field.what)
    elif isinstance(held, BaseModel):
        yield from references(held, loc)
    elif isinstance(held, dict):
        for name, one in held.items():
            if field.what_keys:
                yield Reference((*loc, name), name, field.what_keys, key=True)
            yield from _within(field, one, (*loc, name))
    elif isinstance(held, tuple):
        for index, one in enumerate(held):
            yield from _within(field, one, (*loc, index))


@cache
def _fields(shape: type[BaseModel]) -> tuple[_Field, ...]:
    found = []
    for name, field in shape.model_fields.items():
        of, keys = (field.annotation, *field.metadata), ()
        if get_origin(field.annotation) is dict:
            first, *of = (*get_args(field.annotation), *field.metadata)  # type: ignore[assignment]
            keys = (first,)  # type: ignore[assignment]
        what, what_keys = _what(of), _what(keys)
        if what or what_keys or any(_fields(inner) for inner in _shapes(of)):
            found.append(_Field(name, field.alias or name, what, what_keys))
    return tuple(found)


def _parts(types: Any) -> Iterator[Any]:
    for one in types:
        yield one
        yield from _parts((*get_args(one), *getattr(one, "__metadata__", ())))


def _what(types: Any) -> str:
    return next((one.what for one in _parts(types) if isinstance(one, Refers)), "")


def _shapes(types: Any) -> Iterator[type[BaseModel]]:
    return (one for one in _parts(types) if isinstance(one, type) and issubclass(one, BaseModel))
