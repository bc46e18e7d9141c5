"""Where YAML cannot be parsed: which of the parser's complaints means which fault.

The parser's own sentences (libyaml 0.2.5, as PyYAML's C parser reports them) are looked at to tell its error sites
apart; they are never shown.
"""

from __future__ import annotations

from collections.abc import Callable

import yaml

from docgen.club.yamlblock import bad_indent, colon, dash, lone_dash, misplaced, no_key, tab
from docgen.club.yamlbrackets import (
    after_end,
    bad_code,
    document_end,
    in_brackets,
    no_value,
    stuck_colon,
    unclosed_quote,
)
from docgen.club.yamlevents import Builder, directive, too_deep
from docgen.club.yamlscalar import reserved_start, tag
from docgen.club.yamlsite import Diagnosis, Repair, Site, masked, unknown


def diagnose(error: yaml.YAMLError, built: Builder) -> Diagnosis:
    """What is wrong where the parser gave up on a file."""
    context_mark = getattr(error, "context_mark", None)
    mark = getattr(error, "problem_mark", None) or context_mark
    line, col = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    from_line, from_col = (context_mark.line + 1, context_mark.column + 1) if context_mark is not None else (line, col)
    context, problem = str(getattr(error, "context", None) or ""), str(getattr(error, "problem", None) or "")
    site = Site(line, col, from_line, from_col, context, problem, built)
    for words, answer in SITES:
        if words in problem or words in context:
            return _safe(answer(site), site)
    return unknown(site)


def _safe(found: Diagnosis, site: Site) -> Diagnosis:
    """The same, without a repair that would change how lines hang together and so make faults of its own."""
    if found.repair is None or found.fault.name == "directive-not-allowed":
        return found
    first = not site.row(found.repair.line)[: found.repair.col - 1].strip(" -")
    return Diagnosis(found.fault) if first or found.fault.name == "list-on-key-line" else found


def _cannot_start(site: Site) -> Diagnosis:
    if site.char == "\t":
        return tab(site)
    return masked(reserved_start(site.line, site.col, site.row(site.line), flow=site.flow))


def _here(site: Site) -> Diagnosis:
    return masked(reserved_start(site.line, site.col, site.row(site.line), flow=site.flow))


def _from(site: Site) -> Diagnosis:
    return masked(reserved_start(site.from_line, site.from_col, site.row(site.from_line), flow=site.flow))


def _tag(site: Site) -> Diagnosis:
    return masked(tag(site.from_line, site.from_col, site.row(site.from_line), flow=site.flow))


def _directive(site: Site) -> Diagnosis:
    return Diagnosis(directive(site.from_line, 1), Repair(site.from_line, 1, "#"))


def _document(site: Site) -> Diagnosis:
    for number, row in enumerate(site.lines[: site.line], 1):
        if row.startswith("%"):
            return Diagnosis(directive(number, 1), Repair(number, 1, "#"))
        if row.startswith("..."):
            return Diagnosis(document_end(number))
    return bad_indent(site) if site.first else after_end(site)


def _no_value(site: Site) -> Diagnosis:
    plain = site.first and not site.flow and site.char not in ("", ":", ",", "]", "}")
    return lone_dash(site) if plain and site.line > 1 and not site.row(site.line).startswith("...") else no_value(site)


def _too_deep(site: Site) -> Diagnosis:
    return Diagnosis(too_deep(site.line, site.col))


SITES: tuple[tuple[str, Callable[[Site], Diagnosis]], ...] = (
    ("maximum nesting depth", _too_deep),
    ("directive", _directive),
    ("incompatible YAML document", _directive),
    ("a tag", _tag),
    ("tag handle", _tag),
    ("scanning an alias", _from),
    ("scanning an anchor", _from),
    ("tab character", tab),
    ("scanning a block scalar", _from),
    ("scanning a quoted scalar", unclosed_quote),
    ("parsing a quoted scalar", bad_code),
    ("found unexpected ':'", stuck_colon),
    ("cannot start any token", _cannot_start),
    ("mapping values are not allowed", colon),
    ("could not find expected ':'", no_key),
    ("block sequence entries are not allowed", dash),
    ("mapping keys are not allowed", _here),
    ("did not find expected key", misplaced),
    ("did not find expected '-' indicator", misplaced),
    ("did not find expected ','", in_brackets),
    ("did not find expected node content", _no_value),
    ("<document start>", _document),
)
"""The parser's error sites, by words of its complaint; the first that fits answers."""
