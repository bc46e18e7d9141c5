"""The rules, found by their files: `rules/count_unlike_key.py` is the rule `count-unlike-key`; and those of the faults
that the simulation finds, from the bench and from the verbs.

A rule's module has one of the functions of :data:`SCOPES`; its findings get the rule's name.
A rule whose module says ``LEVEL = "note"`` tells and does not block.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from itertools import chain
from typing import Any, Literal

from docgen.club.bench.faults import FaultRule
from docgen.club.bench.wrong import FAULTS
from docgen.club.problem import Level
from docgen.club.schema.procedure import VERBS
from docgen.proof import rules
from docgen.proof.case import Case
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
    own = [_rule(module.name) for module in pkgutil.iter_modules(rules.__path__)]
    told: dict[str, dict[str, FaultRule]] = {}
    for kind, one in chain(FAULTS.items(), *(verb.faults.items() for verb in VERBS.values())):
        told.setdefault(one.rule, {})[kind] = one
    return tuple(sorted((*own, *(_of_faults(name, kinds) for name, kinds in told.items())), key=lambda rule: rule.name))


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


def _of_faults(name: str, kinds: Mapping[str, FaultRule]) -> Rule:
    """The rule that tells some kinds of faults of the simulation."""

    def check(case: Case) -> Iterator[Finding]:
        return (case.of(fault, told) for kind, told in kinds.items() for fault in case.faults(kind))

    says = next(told.says for told in kinds.values())
    return Rule(name, "on_run", check, "error", says)
