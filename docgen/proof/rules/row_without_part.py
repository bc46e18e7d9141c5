"""A row of the bench leaf does not name a part that its steps take off, put on or renew."""

from docgen.proof.case import Case, Findings
from docgen.proof.texts import TextRow
from docgen.proof.words import english, stems

VERBS = {"removes": "takes off", "fits": "puts on", "renews": "renews"}


def on_row(row: TextRow) -> Findings:
    """One finding a row, for the first part that it does not name; what comes along with another needs no name."""
    met = [(verb, name.partition("/")[0]) for _, step in row.steps for verb in VERBS for name in getattr(step, verb)]
    items = dict.fromkeys(item for _, item in met)
    for verb, item in met:
        if not _named(row.case, item, [other for other in items if other != item], row.stems):
            name = _name(row.case, item)
            yield row.finding(f"a step of this row {VERBS[verb]} the {name}, and the row does not say so",
                              f"name it in the row, or write {{{item}}} where its name is to stand")
            return


def _name(case: Case, item: str) -> str:
    return english(case.figures.name(item)) or item.replace("-", " ")


def _named(case: Case, item: str, others: list[str], said: frozenset[str]) -> bool:
    """Its noun stands in the row; where another of the row has the same noun, a word that tells them apart too."""
    called = english(case.figures.called(item))
    if called and stems(called) <= said:
        return True
    noun, rest = _parts(_name(case, item))
    alike = [other for other in others if _parts(_name(case, other))[0] & noun]
    if not noun & said:
        return bool(rest) and rest <= said
    return not alike or bool(rest & said) or not rest


def _parts(name: str) -> tuple[frozenset[str], frozenset[str]]:
    """The noun of a name, and its other words: `washer` of an outer thrust washer, `bearing` of a drum bearing."""
    head, _, tail = name.partition(" of ")
    words = head.split()
    noun = stems(words[-1]) if words else frozenset()
    return noun, stems(" ".join(words[:-1]) + " " + tail) - noun
