"""Who stands in front of a use that writes: is told what was understood, and asked what only somebody there can say."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Protocol

from docgen.desk.choosing import Unclear
from docgen.returns.diagnostic import Said
from docgen.returns.filing import Filed
from docgen.returns.report import said_lines

Check = Callable[[str], str]
"""Takes an answer and gives it back as it is to be written. Errors: Unclear says what is wrong with it."""

Page = Callable[..., tuple[str, ...]]
"""Has a sheet looked through on a page of its own, as an `Entry` is made of it; the events that it was filed as."""


class Unwritten(Exception):
    """It ends without a word more in the record; what is to be said of it, where that was not said yet."""

    def __init__(self, why: str = "Nothing was written.") -> None:
        super().__init__(why)


class Unanswered(Unwritten):
    """Nobody answers what was asked."""


class Asks(Protocol):
    """Who is asked.

    quiet    : agrees without being asked, and settles no doubt so
    accepted : the names of the doubts that were looked into already
    """

    quiet: bool
    accepted: Collection[str]

    def say(self, text: str, *, strong: bool = False) -> None:
        """Take note of what was understood, or became of it."""

    def warn(self, text: str) -> None:
        """Take note of what is wrong beside."""

    def asked(self, question: str, usual: bool = False) -> bool:
        """Yes or no. Errors: Unanswered."""
        ...

    def typed(self, question: str, usual: str | None = None, check: Check = str, *, suffix: str = ": ") -> str:
        """A text, asked for until the check takes it. Errors: Unanswered."""
        ...


class Unasked:
    """A script: agrees to what it called for, and hears what was said with whatever is refused."""

    quiet = True

    def __init__(self, accepted: Collection[str] = ()) -> None:
        self.accepted, self.heard = accepted, list[str]()

    def say(self, text: str, *, strong: bool = False) -> None:
        """Keep what was said."""
        self.heard.append(text)

    warn = say

    def asked(self, question: str, usual: bool = False) -> bool:
        """Nobody is there to say yes. Errors: Unanswered."""
        raise Unanswered(f"{question}\nNobody was asked. Nothing was written.")

    def typed(self, question: str, usual: str | None = None, check: Check = str, *, suffix: str = ": ") -> str:
        """The usual answer. Errors: Unanswered where there is none."""
        return check(usual) if usual is not None else f"{self.asked(question)}"


def answer(
    who: Asks, given: Mapping[str, str | None], name: str, question: str, check: Check, usual: str | None = None
) -> str:
    """What was given by a name, else the answer to the question.

    usual : what an empty answer means, and what holds when nothing is asked; None where there must be an answer
    Errors: Unclear where what is given is wrong, or is missing when nothing is asked; Unanswered.
    """
    said = given.get(name)
    if said is None and not who.quiet:
        return who.typed(question, usual, check)
    if said is None and usual is None:
        raise Unclear(f"--{name} is needed where nothing is asked")
    try:
        return check(said if said is not None else usual or "")
    except Unclear as error:
        raise Unclear(f"--{name}: {error}") from None


def settled(who: Asks, said: Iterable[Said], question: str = "write it as it stands?") -> bool:
    """Whether every doubt is settled: by its name, or by somebody who answers now, once a name."""
    for name in dict.fromkeys(one.name for one in said if one.weight == "doubt" and one.name not in who.accepted):
        if who.quiet:
            who.say(f"  --yes does not settle a doubt; --accept {name} does, once somebody has looked.")
            return False
        if not who.asked(f"{name}: {question}"):
            return False
    return True


def confirm(who: Asks, lines: Iterable[str], said: Sequence[Said] = (), question: str = "") -> None:
    """Show what was understood and what is said of it. Errors: Unwritten unless nothing is refused, every doubt is
    settled, and somebody agrees."""
    who.say("\n".join((*lines, *said_lines(tuple(said)))))
    good = not any(one.weight == "refused" for one in said) and settled(who, said)
    if not good or not (who.quiet or who.asked(question or "Write this into the record?")):
        raise Unwritten


def tell(who: Asks, root: Path, filed: Sequence[Filed]) -> Sequence[Filed]:
    """Say what became of events, each in a line; they are given back."""
    for one in filed:
        who.say(filed_line(root, one))
    return filed


def filed_line(root: Path, filed: Filed) -> str:
    """What became of an event."""
    if not filed.new:
        return f"Already filed, as {filed.path.name}. Nothing was written."
    line = f"Filed: {filed.path.relative_to(root).as_posix()}"
    line += "; it joins what was filed apart" if filed.branches else ""
    unsure = f"\n  with a warning: {filed.unsure}. It is written: do not file it again; look at the disk."
    return line + (unsure if filed.unsure else "")


def changes_of(typed: Sequence[str], example: str) -> dict[str, str]:
    """What holds instead, by its key. Errors: Unclear for what is no KEY=VALUE."""
    if wrong := next((change for change in typed if "=" not in change), None):
        raise Unclear(f'"{wrong}" is no KEY=VALUE, as in {example}')
    return {key.strip(): value.strip() for key, _, value in (change.partition("=") for change in typed)}
