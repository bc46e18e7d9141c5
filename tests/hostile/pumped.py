"""Texts on which a pattern would blow up, if it can: made from the pattern's own parts, a repeat at a time.

    python -m tests.hostile.pumped

Tries every pattern of the program (those compiled in its modules, and those written in calls of `re`), prints a line of
JSON a pattern, and is held by the kernel to a processor time that a pattern without faults does not come near.
"""

from __future__ import annotations

import ast
import json
import pkgutil
import re
import resource
import sys
import time
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from re import _constants as c  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import docgen
from tests.shares import share

SHORT, LONG = 28, 20_000
"""Times that a piece is repeated: enough to see 2 to the power of it, and the longest text that the reader takes."""
ENDS = ("\x00", "", "!")
"""What may follow, so that the pattern fits or does not: behind the longest texts one of them in an everyday run."""
SLOW = 1.0
"""Seconds from which a pattern is too slow on one text."""
_COMMON = [*' a0-.#"{,\t\n\u0301\u200d', "a-", "0.", " #", "a ", "{a", "1,"]
_FLAGS = (("i", re.I), ("m", re.M), ("s", re.S), ("a", re.A))
_CALLS = frozenset({"compile", "match", "fullmatch", "search", "sub", "split", "findall", "finditer"})


def patterns() -> dict[tuple[str, str], str]:
    """Each pattern of the program, with its flags in front, and how it is asked; and the first module that has it."""
    modules = [import_module(one.name) for one in pkgutil.walk_packages(docgen.__path__, "docgen.")]
    sources = {module: Path(str(module.__file__)).read_text("utf-8") for module in modules}
    found: dict[tuple[str, str], str] = {}
    for module, source in sources.items():
        for name, value in vars(module).items():
            if isinstance(value, re.Pattern) and isinstance(value.pattern, str):
                users = [source, *(text for text in sources.values() if f"from {module.__name__} import" in text)]
                ways = {way for text in users for way in re.findall(rf"\b{name}\.(\w+)\(", text)} & _CALLS
                for way in ways or {"search"}:
                    found.setdefault((_key(value), way), module.__name__)
        for node in ast.walk(ast.parse(source)):
            if isinstance(node, ast.Call) and ast.unparse(node.func).startswith("re.") and node.args:
                way, text = ast.unparse(node.func)[3:], node.args[0]
                if way in _CALLS - {"compile"} and isinstance(text, ast.Constant) and isinstance(text.value, str):
                    found.setdefault((_key(re.compile(text.value)), way), module.__name__)
    return found


def _key(pattern: re.Pattern[str]) -> str:
    flags = "".join(letter for letter, flag in _FLAGS if pattern.flags & flag)
    return (f"(?{flags})" if flags else "") + pattern.pattern


def slowest(text: str, way: str, slow: float = SLOW) -> tuple[float, str]:
    """The longest time that a pattern takes on any text made for it, and the piece that was repeated in that."""
    # Splitting, replacing and finding all look everywhere, as searching does.
    ask = getattr(re.compile(text), way if way in ("match", "fullmatch") else "search")
    worst = (0.0, "")
    for times in (SHORT, LONG):
        for before, piece in dict.fromkeys(_attacks(text)):
            for end in ENDS if times == SHORT else ENDS[: share(1, 3)]:
                attack = before + piece * times + end
                begun = time.process_time()
                ask(attack)
                worst = max(worst, (time.process_time() - begun, piece))
                if worst[0] > slow:
                    return worst
    return worst


def _attacks(text: str) -> Iterator[tuple[str, str]]:
    tree = parser.parse(text)
    yield from (("", piece) for piece in _COMMON)
    yield from _pumps(tree, "")


def _pumps(tree: Any, before: str) -> Iterator[tuple[str, str]]:
    """For each repeat in a pattern, what stands before it and what it repeats, in a few spellings."""
    for op, argument in tree:
        if op in (c.MAX_REPEAT, c.MIN_REPEAT, c.POSSESSIVE_REPEAT):
            _, most, body = argument
            if most > SHORT // 2:
                yield from ((before, piece) for piece in _spellings(body) if piece)
            yield from _pumps(body, before)
        elif op is c.SUBPATTERN:
            yield from _pumps(argument[-1], before)
        elif op is c.ATOMIC_GROUP:
            yield from _pumps(argument, before)
        elif op is c.BRANCH:
            for branch in argument[1]:
                yield from _pumps(branch, before)
        before += _spelt([(op, argument)], 0)


def _spellings(tree: Any) -> Iterator[str]:
    yield from (_spelt(tree, which) for which in range(6))


def _spelt(tree: Any, which: int) -> str:
    """A text that a pattern takes; `which` chooses among its branches and characters."""
    out = ""
    for op, argument in tree:
        if op is c.LITERAL:
            out += chr(argument)
        elif op is c.NOT_LITERAL:
            out += "b" if chr(argument) == "a" else "a"
        elif op is c.ANY:
            out += "a"
        elif op is c.IN:
            out += _one_of(argument, which)
        elif op in (c.MAX_REPEAT, c.MIN_REPEAT, c.POSSESSIVE_REPEAT):
            least, most, body = argument
            out += _spelt(body, which) * max(least, min(most, 1 if which < 3 else 0))
        elif op is c.SUBPATTERN:
            out += _spelt(argument[-1], which)
        elif op is c.ATOMIC_GROUP:
            out += _spelt(argument, which)
        elif op is c.BRANCH:
            branches = argument[1]
            out += _spelt(branches[which % len(branches)], which)
    return out


_CATEGORIES = {"DIGIT": "0", "SPACE": " ", "WORD": "a", "NOT_DIGIT": "a", "NOT_SPACE": "a", "NOT_WORD": " "}


def _one_of(members: Any, which: int) -> str:
    inside = members[1:] if members and members[0][0] is c.NEGATE else members
    if members and members[0][0] is c.NEGATE:
        taken = {chr(value) for op, value in inside if op is c.LITERAL}
        return next(char for char in "a0 .-x" if char not in taken)
    op, value = inside[which % len(inside)]
    if op is c.LITERAL:
        return chr(value)
    if op is c.RANGE:
        return chr(value[0])
    return _CATEGORIES.get(str(value).partition("CATEGORY_")[2], "a")


def main() -> None:
    """Try every pattern."""
    for (text, way), module in patterns().items():
        spent = resource.getrusage(resource.RUSAGE_SELF).ru_utime
        resource.setrlimit(resource.RLIMIT_CPU, (int(spent) + 20, resource.RLIM_INFINITY))
        sys.stdout.write(json.dumps([text, way, module]) + "\n")
        sys.stdout.flush()
        sys.stdout.write(json.dumps(slowest(text, way)) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
