"""The bench's imperatives, from `tables/verbs.csv`: what a step's text may begin with, and what work it promises."""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache

from docgen.club.schema.procedure import VERBS
from docgen.proof.tables import read_words

CONDITIONS = ("if", "when", "before", "after", "with", "until", "where", "while", "once", "unless", "from", "for", "on",
              "in", "at", "as", "without", "by", "between", "during", "to")  # fmt: skip
"""Words that open a condition, which a comma then closes: `With the engine cold, ...`."""

OBJECTS = ("the", "a", "an", "all", "both", "each", "every", "it", "its", "them", "any", "some", "no", "new", "for")
"""Words that follow an imperative and open its object."""
NEVER = ("this", "that", "these", "those", "there", "they", "he", "she", "we", "you", "i", "is", "are", "must",
         "should", "may", "can", "will", "not", "and", "or", "now", "then", "also")  # fmt: skip
"""Words that are no imperatives whatever follows."""

NOUNS_TOO = frozenset({"clean", "cover", "drain", "fill", "grease", "oil", "seal", "spray", "torque", "wash", "wet"})
"""Words that are a thing or a state as often as a verb: `Oil runs out.`, `Wet threads do not lock.`"""
WORKSHOP = re.compile(
    r"(?:(?:the|a|an|your|both|all|each|every|any|some|clean|old|used|new|wet|oily)\s+)*(?:\w+\s+)?"
    r"(?:rags?|cloths?|cans?|pans?|trays?|bench|benches|hands?|fingers?|gloves|tools?|brush|brushes|bottles?|syringes?"
    r"|funnels?|jugs?|sponges?|buckets?|sheets?|forms?|cards?|labels?|floor|cells?|bags?|lamps?|drawers?"
    r"|box(?:es)?(?: of \w+)?)\b(?! of\b)", re.IGNORECASE)  # fmt: skip
"""What lies about in a workshop and is no part of the engine: `Clean the tray.` promises no work on it."""
_ARTICLES = re.compile(r"^(?:(?:the|a|an|your|both|all|each|every)\s+)+", re.IGNORECASE)
_OF_THE_SHOP = frozenset(key for key, verb in VERBS.items() if verb.of_shop)

_MOVES = re.compile(
    r"(?:(?:now|next|then),? )?(?:the|a|an|both|all|each|every|any)(?: [\w{}-]+){1,6}?(?: (?P<on>go(?:es)?)"
    r"| (?P<off>comes?))(?: back)? (?:on|onto|in|into|over|off|out|away)\b", re.IGNORECASE)  # fmt: skip
_ON, _OFF = ("fits", "renews", "starts", "tightens"), ("removes", "undoes")

_CLAUSE = re.compile(r"(?:,\s*(?:and\s+then|and|then|or)|;|\band\b|\bthen\b)\s+|(?<=[.!?])\s+", re.IGNORECASE)
_SPRAYED = re.compile(r"(?!of )(?:[\w-]+ )?(?:oil|water|fluid|cleaner|lubricant|degreaser) (?:into|onto|on|over) ")
_FIRST = re.compile(r"[A-Za-z]+(?:-[a-z]+)?")


@dataclass(frozen=True)
class Imperative:
    """One row: the verb; what must stand behind it for the row to hold; the step keys, one of which it promises;
    whether it is work on the engine, which no safety message may contain."""

    verb: str
    follows: re.Pattern[str]
    needs: tuple[str, ...]
    work: bool


@cache
def imperatives() -> dict[str, tuple[Imperative, ...]]:
    """All verbs, each with its rows. Errors: ValueError for a row without source."""
    found: dict[str, list[Imperative]] = {}
    for row in read_words("verbs"):
        follows = re.compile(row["with"], re.IGNORECASE)
        imperative = Imperative(row["verb"], follows, tuple(row["needs"].split()), row["work"] == "yes")
        found.setdefault(row["verb"], []).append(imperative)
    return {verb: tuple(rows) for verb, rows in found.items()}


def first_word(text: str) -> str:
    """The first word, in small letters; empty for a text that begins with none."""
    match = _FIRST.match(text.strip())
    return match.group().lower() if match else ""


def opens_well(sentence: str) -> bool:
    """Whether a sentence begins with an imperative, or with a condition, a comma and then an imperative."""
    return any(map(_imperative, _openings(sentence)))


def told_by_thing(sentence: str) -> tuple[str, ...]:
    """The step keys, one of which a sentence states by way of what moves: `Now the outer washer goes on.`; or none."""
    moves = _MOVES.match(sentence.strip())
    return () if moves is None else _ON if moves["on"] else _OFF


def begins_row(row: str) -> bool:
    """Whether a row of the leaf begins with a verb: one of the list, or a word that can be nothing else there.

    Rows leave articles out, so that what follows a verb of the list may be anything.
    """
    return first_word(row) in imperatives() or opens_well(row)


def _openings(clause: str) -> Iterator[str]:
    """Where its imperative may stand: at its beginning, or behind a comma of the condition that opens it."""
    bare, condition = clause.strip(), first_word(clause) in CONDITIONS
    yield bare
    while condition and "," in bare:
        bare = bare.partition(",")[2].strip()
        yield bare


def _imperative(clause: str) -> bool:
    """A verb of the list; or any word before an object (`Subtract the bore`), unless it cannot be an imperative."""
    first, _, rest = clause.strip().partition(" ")
    word = first_word(first)
    if word in imperatives():
        return True
    bare = word and word not in (*CONDITIONS, *OBJECTS, *NEVER) and not word.endswith(("ly", "ing", "ed"))
    return bool(bare) and first_word(rest) in OBJECTS


def promised(text: str, things: Collection[str] = ()) -> list[Imperative]:
    """The rows that hold for a text, clause by clause: `Hold the crank, and tighten the nut.` promises to tighten.

    A clause's opening condition is passed over: `With the engine cold, tighten the nut.` Work on one of `things`, names
    of what belongs to the workshop in small letters, is none on the engine: `Remove the hose clamp.`
    """
    found = []
    for clause in _clauses(text):
        for verb, _, rest in (opening.partition(" ") for opening in _openings(clause)):
            if rows := imperatives().get(verb.lower()):
                if is_verb(verb.lower(), rest.strip()):
                    found += [row for row in rows if row.follows.search(rest.strip()) and _on_engine(row, rest, things)]
                break
    return found


def is_verb(word: str, rest: str) -> bool:
    """Whether a word of the list is a verb before what follows; those that are nouns too need an object behind them."""
    object_follows = first_word(rest) in (*OBJECTS, "up") or rest.startswith("{") or re.search(r"\bwith\b", rest)
    return word not in NOUNS_TOO or bool(object_follows) or bool(word == "spray" and _SPRAYED.match(rest))


def _on_engine(row: Imperative, rest: str, things: Collection[str]) -> bool:
    named = _ARTICLES.sub("", rest.strip()).lower()
    of_the_shop = WORKSHOP.match(rest.strip()) or any(named.startswith(thing) for thing in things)
    return bool(_OF_THE_SHOP & set(row.needs)) or not of_the_shop


def _clauses(text: str) -> list[str]:
    """The parts of a text that each open with an imperative or a condition: `Let taper, bore and nut dry.` is one."""
    clauses: list[str] = []
    for part in (listed for clause in _CLAUSE.split(text) for listed in _listed(clause)):
        if clauses and first_word(part) not in (*imperatives(), *CONDITIONS):
            clauses[-1] += f" {part}"
        else:
            clauses.append(part)
    return clauses


def _listed(clause: str) -> list[str]:
    """The clauses of a list of imperatives: `Open the cap, fill up to the mark`; any other clause stays whole."""
    return _in_a_list().split(clause) if first_word(clause) in imperatives() else [clause]


@cache
def _in_a_list() -> re.Pattern[str]:
    """The comma before an imperative and its object."""
    objects = rf"(?:up|(?:(?:at|into|through) )?(?:{'|'.join(OBJECTS)}))\b"
    return re.compile(rf",\s+(?=(?:{'|'.join(imperatives())}) {objects})")
