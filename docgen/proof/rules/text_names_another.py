"""The text names one thing and the step handles another: a line was copied and only half of it changed."""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from docgen.club.schema.procedure import Step
from docgen.job.readings import sources_of
from docgen.proof.case import Case, Findings
from docgen.proof.naming import Name, listed_words, opposed, opposites, parted, spoken_name
from docgen.proof.texts import Text

_CLAUSE = {"en": re.compile(r"[,;.:]|\b(?:and|then|or)\b"), "de": re.compile(r"[,;.:]|\b(?:und|dann|oder)\b")}
_BEFORE, _BEHIND = 3, 6
"""Words before and behind a noun in which what tells it from others is looked for."""
Names = Mapping[str, Name]


def on_text(text: Text) -> Findings:
    """One finding at the verb.

    Another thing must be named in full, and better than all that the step handles; or by the very words that tell it
    from the one that is handled, as outer and inner of two washers.
    """
    if not text.is_step:
        return
    case, kinds = text.case, _names(text.case, text.language)
    for verb, kind, handled in _handled(text.steps[0]):
        meant = {*handled, *_sources(case, handled)}
        names = {name: parts for name, parts in kinds[kind].items() if name not in meant}
        every = kinds[kind] if kind in ("limits", "settings") else {**kinds["parts"], **kinds["fasteners"]}
        own = {name: every[name] for name in handled if name in every}
        other = _better(own, names, text) or _told_apart(own, names, text) if own else None
        if other:
            yield case.finding(text.index, (verb, 0) if verb != "measure" else ("measure", "of", 0),
                               f"the text names {other}, and the step {verb.removesuffix('s')}s {next(iter(own))}",
                               "let text and step speak of the same thing")  # fmt: skip
            return
    yield from _aside(case, text, kinds)


def _aside(case: Case, text: Text, kinds: Mapping[str, Names]) -> Findings:
    """The same for what is looked at, measured, cleaned or greased: it must be told apart, for texts name more here."""
    every, step = {**kinds["parts"], **kinds["fasteners"]}, text.steps[0]
    meant = dict.fromkeys(name.partition("/")[0] for name in _about(case, step))
    own = {name: every[name] for name in meant if name in every}
    also = {name.partition("/")[0] for name in step.moved}
    names = {name: parts for name, parts in every.items() if name not in meant and name not in also}
    other = _told_apart(own, names, text) if own else None
    if other:
        message = f"the text names {other}, and the step is about {next(iter(own))}"
        yield text.finding(message, "let text and step speak of the same thing")


def _about(case: Case, step: Step) -> Iterator[str]:
    """The items that a step's look, reading, cleaning and greasing are about."""
    yield from step.cleans
    for use in step.applies.values():
        yield from use.to
    limits = case.model.value.limits
    measured = [limits[name] for name in (step.measure.of if step.measure else ()) if name in limits]
    yield from (name for limit in measured for name in limit.of)
    if step.look:
        yield from step.look.of
    for fail in (*(fail for _, fail in step.fails), *(one.fail for one in measured if one.fail)):
        yield from fail.renews or ()


def _handled(step: Step) -> Iterator[tuple[str, str, list[str]]]:
    """The first verb of assembly with the kind of thing that it handles; then what is measured, noted and set."""
    if moving := [verb for verb in step.verbs if verb.moves]:
        every = [name.partition("/")[0] for name in step.moved]
        yield moving[0].key, "fasteners" if moving[0].defined == "fasteners" else "parts", every
    for verb in step.verbs:
        if verb.defined in ("limits", "settings"):
            yield verb.key, verb.defined, [one.name for one in verb.names(step)]


@lru_cache(maxsize=4)
def _names(case: Case, language: str) -> dict[str, Names]:
    model = case.model.value
    groups: dict[str, Mapping[str, Any]] = {
        "parts": model.parts, "fasteners": model.fasteners, "limits": model.limits, "settings": model.settings,
    }  # fmt: skip
    return {
        kind: {key: parted(name, language) for key, item in items.items()
               if (name := spoken_name(item.name, key, language))}
        for kind, items in groups.items()
    }  # fmt: skip


def _sources(case: Case, limits: list[str]) -> Iterator[str]:
    """The readings that a derived one is taken from, which its text names."""
    for name in limits:
        limit = case.model.value.limits.get(name)
        if limit and limit.derived:
            yield from sources_of(limit.derived)


def _better(own: Names, names: Names, text: Text) -> str | None:
    """Another that is named in full, while of none of those handled as many words are."""
    said = frozenset(listed_words(text.text, text.language))
    found = max(len(name.words & said) for name in own.values())
    if any(name.words <= said for name in own.values()):
        return None
    whole = [key for key, name in names.items() if name.words <= said and len(name.words) > found]
    return max(whole, key=lambda key: len(names[key].words), default=None)


def _told_apart(own: Names, names: Names, text: Text) -> str | None:
    """Another of the same noun, of which a clause says what tells the two apart, and nothing that tells of its own."""
    return next((found for clause in _clauses(text) if (found := _told(own, names, clause, text.language))), None)


def _clauses(text: Text) -> list[tuple[str, ...]]:
    """The words of each part of a text, parted at commas and at words that begin another action."""
    parts = _CLAUSE.get(text.language, _CLAUSE["en"]).split(text.text)
    return [words for part in parts if (words := listed_words(part, text.language))]


def _told(own: Names, names: Names, words: tuple[str, ...], language: str) -> str | None:
    known = opposites(language)
    for mine in own.values():
        places = [at for at, word in enumerate(words) if word == mine.noun]
        near = {*words[max(0, places[0] - _BEFORE) : places[0]], *words[places[0] + 1 : places[0] + 1 + _BEHIND]} if (
            len(places) == 1) else set()  # fmt: skip
        before = words[max(0, places[0] - 2) : places[0]] if len(places) == 1 else ()
        contrary = opposed(before, mine.heads, language) if not mine.heads & set(words) else None
        same = (one for one in own.values() if one.noun == mine.noun)
        if contrary and not any(one.heads <= set(words[: places[0]]) for one in same):
            return f"'{contrary[0]} {mine.noun}'"
        alike = {key: name for key, name in names.items() if name.noun == mine.noun}
        if any((mine.words - other.words) & near for other in alike.values()):
            continue
        for key, other in alike.items():
            told = (other.words - mine.words) & near
            said = (other.words - mine.words) & set(words)
            turned = {word for word in said if known.get(word, frozenset()) & mine.words}
            own_said = any((one.words - other.words) & set(words) for one in own.values())
            shared = any(turned & name.words for name in own.values())
            if (told or turned) and not own_said and (told or not shared):
                return key
    return None
