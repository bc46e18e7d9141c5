"""The rules, found by their files: `rules/part_left_off.py` is the rule `part-left-off`.

A rule's module has one of the functions of :data:`SCOPES`; its findings get the rule's name.
A rule whose module says ``LEVEL = "note"`` tells and does not block.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Any, Literal

from docgen.club.problem import Level
from docgen.proof import rules
from docgen.proof.finding import Finding

Scope = Literal["on_run", "on_steps", "on_model", "on_engine", "on_silences"]
SCOPES: tuple[Scope, ...] = ("on_run", "on_steps", "on_model", "on_engine", "on_silences")
"""One job simulated (Case); a file's own words (Written); a model (Typed); an engine (Owned); silences (Silences)."""


@dataclass(frozen=True)
class Rule:
    """One rule: its name, what it looks at, how it looks, whether it blocks."""

    name: str
    scope: Scope
    check: Callable[[Any], Iterable[Finding]]
    level: Level
    says: str


@cache
def rulebook() -> tuple[Rule, ...]:
    """All rules, by name. Errors: ImportError for a module in `rules/` that has not exactly one scope's function."""
    return tuple(_rule(module.name) for module in pkgutil.iter_modules(rules.__path__))


def rules_on(scope: Scope) -> tuple[Rule, ...]:
    """The rules that look at one kind of thing."""
    return tuple(rule for rule in rulebook() if rule.scope == scope)


def _rule(stem: str) -> Rule:
    module = import_module(f"{rules.__name__}.{stem}")
    scopes = [scope for scope in SCOPES if hasattr(module, scope)]
    if len(scopes) != 1 or not module.__doc__:
        raise ImportError(f"{module.__name__} needs a docstring and exactly one of {', '.join(SCOPES)}")
    level: Level = getattr(module, "LEVEL", "error")
    return Rule(stem.replace("_", "-"), scopes[0], getattr(module, scopes[0]), level, module.__doc__.split("\n")[0])
