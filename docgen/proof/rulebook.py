"""The rules, found by their files: `rules/count_unlike_key.py` is the rule `count-unlike-key`; and those of the faults
that the simulation finds, from the bench and from the verbs.

A rule's module has one function, called by what it looks at (:data:`SCOPES`); its findings get the rule's name.
A rule whose module says ``LEVEL = "note"`` tells and does not block.
"""

import pkgutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache, partial
from importlib import import_module
from itertools import chain
from typing import Any, Literal

from docgen.club.bench.faults import FaultRule
from docgen.club.bench.mistakes import FAULTS
from docgen.club.problem import Level
from docgen.club.schema.procedure import VERBS
from docgen.proof import rules
from docgen.proof.case import Case, Finding, Findings
from docgen.proof.texts import rows_of, texts_of

Scope = Literal["on_run", "on_steps", "on_model", "on_engine", "on_silences"]
SCOPES = ("on_run", "on_text", "on_row", "on_steps", "on_model", "on_engine", "on_silences")
"""One job simulated (Case), each of its texts (Text), each row of its leaf (Row); a file's own words (Written); a model
(Typed); an engine (Owned); silences (Silences)."""
PARTS: Mapping[str, Callable[[Case], Iterable[Any]]] = {"on_text": texts_of, "on_row": rows_of}
"""What of a job a rule looks at one by one."""


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
    named = [name for name in SCOPES if hasattr(module, name)]
    if len(named) != 1 or not module.__doc__:
        raise ImportError(f"{module.__name__} needs a docstring and exactly one of {', '.join(SCOPES)}")
    check, scope = getattr(module, named[0]), named[0]
    if scope in PARTS:
        check, scope = partial(_of_each, check, PARTS[scope]), "on_run"
    level, says = getattr(module, "LEVEL", "error"), module.__doc__.split("\n")[0]
    return Rule(stem.replace("_", "-"), scope, check, level, says)  # type: ignore[arg-type]


def _of_each(check: Callable[[Any], Findings], parts: Callable[[Case], Iterable[Any]], case: Case) -> Findings:
    return (finding for part in parts(case) for finding in check(part))


def _of_faults(name: str, kinds: Mapping[str, FaultRule]) -> Rule:
    """The rule that tells some kinds of faults of the simulation."""

    def check(case: Case) -> Findings:
        return (case.of(fault, told) for kind, told in kinds.items() for fault in case.faults(kind))

    says = next(told.says for told in kinds.values())
    return Rule(name, "on_run", check, "error", says)
