"""What may be written in a file's fields, as JSON Schema: for editors that check and complete while somebody types.

An editor reads YAML by its core schema (YAML 1.2, 10.3), in which ``12`` is a number and ``true`` a boolean; our reader
takes every scalar as text. So a field takes each kind of scalar whose text our reader takes. ``patternErrorMessage`` is
no part of JSON Schema: YAML language servers show it in place of the pattern.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from docgen.trade.units import units, units_of

Shape = dict[str, Any]
"""A JSON Schema, or a part of one."""


@dataclass(frozen=True, eq=False)
class Reads:
    """How a value is read, and what may be written: a shape, or how it is made of the shape of what is within."""

    read: Callable[[Any], Any]
    shape: Shape | Callable[[Shape, Callable[[Shape], Shape]], Shape]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> Shape:
        return self.shape(handler(core), handler.resolve_ref_schema) if callable(self.shape) else dict(self.shape)


TEXT: Shape = {"type": ["string", "number", "boolean"], "minLength": 1}
FLAG: Shape = {
    "type": ["boolean", "string"],
    "pattern": "^(true|false)$",
    "patternErrorMessage": "write true or false",
}

LANGUAGE: Shape = {
    "type": "string",
    "pattern": "^[a-z]{2,3}(-[A-Z]{2})?$",
    "patternErrorMessage": "write the language as en, de or fr",
}
LANGUAGES: Shape = {
    "anyOf": [
        TEXT,
        {
            "type": "object",
            "patternProperties": {LANGUAGE["pattern"]: TEXT},
            "additionalProperties": False,
            "minProperties": 1,
        },
    ]
}
"""Text, or the same text by language."""


def pattern(form: re.Pattern[str], hint: str) -> Shape:
    """Text of a form; a number or boolean never is of it."""
    return {"type": "string", "pattern": f"^({_ascii(form.pattern)})$", "patternErrorMessage": hint}


def word(form: re.Pattern[str], hint: str) -> Shape:
    """Text of a form that may be all digits (``042``), which an editor takes for a number, or the word ``true``."""
    return {**pattern(form, hint), "type": ["string", "integer", "boolean"], "minimum": 0}


def number(form: re.Pattern[str], hint: str) -> Shape:
    """A number of a form, none below nought, in quotation marks or without."""
    whole = not form.fullmatch("1.5")
    return {**pattern(form, hint), "type": ["integer" if whole else "number", "string"], "minimum": 0}


def quantity(dimension: str | None) -> Shape:
    """A figure with its unit, as :func:`docgen.trade.quantity.parse_quantity` reads it."""
    return _figures(f" *{_figure(dimension)}", dimension)


def lasting() -> Shape:
    """A time of fixed length: calendar months have none."""
    symbols = [symbol for symbol in units_of("time") if symbol != "month"]
    forms = "|".join(re.escape(symbol) for symbol in sorted(symbols, key=len, reverse=True))
    hint = f"write a figure with its unit, as in 34 {symbols[0]}; units of time: {', '.join(symbols)}"
    return {"type": "string", "pattern": f"^ *{_NUMBER} *({forms}) *$", "patternErrorMessage": hint}


def band(dimension: str | None) -> Shape:
    """A band of figures, as :func:`docgen.trade.quantity.parse_band` reads it."""
    one = _figure(dimension)
    forms = (one, f"{_NUMBER} *\\.\\. *{one}", f"[<>]= *{one}", f"{one} *\\+/- *{_figure(None)}")
    return _figures(f" *({'|'.join(forms)})", dimension)


def held() -> Shape:
    """Whole containers (or pieces), or an amount with its unit."""
    form = f"([0-9]{{1,6}}| *{_figure(None)} *)"
    hint = "write 2 for two containers, or what is left of one, as in 150 g"
    return {"type": ["integer", "string"], "minimum": 0, "pattern": f"^{form}$", "patternErrorMessage": hint}


def one_or_list(several: Shape, resolve: Callable[[Shape], Shape]) -> Shape:
    """A list, or one of its items by itself."""
    return {"anyOf": [several.get("items", {}), several]}


def or_its(key: str) -> Callable[[Shape, Callable[[Shape], Shape]], Shape]:
    """A mapping, or by itself what stands under its key `key`."""

    def either(mapping: Shape, resolve: Callable[[Shape], Shape]) -> Shape:
        within = resolve(mapping)["properties"][key]
        return {"anyOf": [{name: part for name, part in within.items() if name != "title"}, mapping]}

    return either


_NUMBER = r"[+-]?[0-9]{1,12}(\.[0-9]{1,12})?"


def _figure(dimension: str | None) -> str:
    symbols = sorted(units_of(dimension) if dimension else units(), key=len, reverse=True)
    return f"{_NUMBER} *({'|'.join(re.escape(symbol) for symbol in symbols)})"


def _figures(form: str, dimension: str | None) -> Shape:
    symbols = units_of(dimension) if dimension else ()
    known = f"; units of {dimension}: {', '.join(symbols)}" if symbols else ""
    example = f"34 {symbols[0]}" if symbols else "34 N.m"
    hint = f"write a figure with its unit, as in {example}{known}"
    return {"type": "string", "pattern": f"^{form} *$", "patternErrorMessage": hint}


def _ascii(form: str) -> str:
    """A pattern of Python's as one of JSON Schema's dialect (ECMA 262), where ``\\d`` is 0 to 9 already."""
    return form.replace("(?:", "(")
