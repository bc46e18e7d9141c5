"""The text counts its things otherwise than the model: `both screws`, of which there are four."""

import re
from collections.abc import Iterator
from functools import cache

from docgen.club.schema.procedure import Step
from docgen.proof.case import Case, Findings
from docgen.proof.figures import numbers
from docgen.proof.naming import parted, singular, spoken_name
from docgen.proof.texts import Text

BOTH = {"en": "both", "de": "beide"}
NOT_ALL = ("first", "last", "other", "next", "another", "every", "each", "by", "ersten", "letzten", "anderen", "je")
"""Words before a number that make it one of a part of them."""
AT_A_TIME = re.compile(r"\s*(?:at a time|by turns|at once|opposite|facing|a day|auf einmal|gegenüber)\b", re.IGNORECASE)
SOME = re.compile(r"\b(?:opposite|facing|neighbou?ring|outer|inner|other|others|rest|remaining|longer|shorter|anderen"
                  r"|übrigen|restlichen|gegenüberliegende\w*|äußere\w*|innere\w*)\b", re.IGNORECASE)  # fmt: skip
"""Words that make a count one of some of them: `two opposite screws, then the other two`."""
AT_MOST = {"en": re.compile(r"\b(?:at most|no more than|not more than) (\w+) times\b", re.IGNORECASE),
           "de": re.compile(r"\bhöchstens (\w+)[ -]?mal\b", re.IGNORECASE)}  # fmt: skip
PLACES = {"en": re.compile(r"\b(\w+) (?:places|directions|points|positions|spots)\b", re.IGNORECASE),
          "de": re.compile(r"\b(\w+) (?:Stellen|Richtungen|Punkten|Punkte)\b")}  # fmt: skip


def on_text(text: Text) -> Findings:
    """One finding a text, at the first count that is neither that of one thing nor of all alike together."""
    return (text.finding(*found) for found in (*_counted(text), *_repeated(text), *_places(text))[:1])


def _counted(text: Text) -> Iterator[tuple[str, str]]:
    counts = [one for step in text.steps for one in _counts(text.case, step, text.language)]
    if not counts:
        return
    nouns, items = {noun for noun, _, _ in counts}, {item for _, item, _ in counts}
    for match in _pattern(text.language).finditer(text.text):
        noun = singular(match["noun"].lower(), text.language)
        before = re.findall(r"\w+", text.text[: match.start()])
        if noun not in nouns or (before and before[-1].lower() in NOT_ALL) or AT_A_TIME.match(text.text, match.end()):
            continue
        if SOME.search(text.text):
            continue
        said = 2 if match["count"].lower() == BOTH.get(text.language) else _number(match["count"], text.language)
        alike = [(item, number) for one, item, number in counts if one == noun]
        known = {number for _, number in alike}
        fits = said is None or said in known or said in (len(alike), len(items), sum(number for _, number in alike))
        if not fits and said is not None and said > 1:
            item, number = alike[0]
            yield (f"the text says '{match['count']} {match['noun']}', and of {item} there "
                   f"{'is' if number == 1 else 'are'} {number}",
                   "let text and model count alike; or name the ones that are meant, as in head-nuts/2")  # fmt: skip


def _repeated(text: Text) -> Iterator[tuple[str, str]]:
    for step in text.steps:
        if step.repeat and step.repeat.at_most and text.language in AT_MOST:
            for match in AT_MOST[text.language].finditer(text.text):
                said = _number(match[1], text.language)
                if said is not None and said != step.repeat.at_most:
                    yield (f"the text says '{match[0]}', and the step repeats at most {step.repeat.at_most} times",
                           "let text and  at_most:  say the same")  # fmt: skip


def _places(text: Text) -> Iterator[tuple[str, str]]:
    """In how many places a reading is taken: as many as the limit has positions."""
    names = [name for step in text.steps for name in (step.measure.of if step.measure else ())]
    limits = text.case.model.value.limits
    taken = {len(limits[name].positions) for name in names if name in limits}
    for match in PLACES[text.language].finditer(text.text) if taken - {0} and text.language in PLACES else ():
        said = _number(match[1], text.language)
        if said is not None and said > 1 and said not in taken:
            yield (f"the text says '{match[0]}', and {names[0]} is read in {max(taken)}",
                   "let text and the limit's  positions:  say the same")  # fmt: skip


def _counts(case: Case, step: Step, language: str) -> Iterator[tuple[str, str, int]]:
    """The nouns of what a step handles, with its item and how many of it the step handles."""
    graph, model = case.run.graph, case.model.value
    handled: dict[str, set[str]] = {}
    for verb in step.verbs:
        for _, name, _ in verb.names(step) if verb.counted else ():
            handled.setdefault(name.partition("/")[0], set()).update(graph.members(name))
    for item, members in handled.items():
        spec = model.parts.get(item) or model.fasteners.get(item)
        name = spoken_name(spec.name, item, language) if spec else ""
        if name and members:
            yield parted(name, language).noun, item, len(members)
            if spec and spec.called and spoken_name(spec.called, item, language):
                yield parted(spoken_name(spec.called, item, language), language).noun, item, len(members)


@cache
def _pattern(language: str) -> re.Pattern[str]:
    words = [word for word, value in numbers(language).items() if value > 1 and value == int(value)]
    many = "|".join(sorted([BOTH.get(language, "both"), *map(re.escape, words), r"\d{1,2}"], key=len, reverse=True))
    noun = r"[^\W\d_]+s" if language == "en" else r"[A-ZÄÖÜ][^\W\d_]+"
    between = r"(?:(?!of\b|the\b|and\b|to\b|in\b|on\b)[a-z-]+ ){0,2}?" if language == "en" else r"(?:[a-zäöüß]+ ){0,2}?"
    flags = re.IGNORECASE if language == "en" else re.NOFLAG
    return re.compile(rf"(?<![\w.,/])(?P<count>{many}) {between}(?P<noun>{noun})\b", flags)


def _number(text: str, language: str) -> int | None:
    if text.isdigit():
        return int(text)
    found = numbers(language).get(text.lower())
    return int(found) if found is not None else None
