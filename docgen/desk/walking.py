"""Going through a sheet box by box with somebody who answers, a draft kept after each, and filing what was typed."""

from collections.abc import Sequence
from pathlib import Path

from docgen.club.store import StoreError
from docgen.desk.asking import Asks, Unanswered
from docgen.desk.filing import Paper
from docgen.desk.settling import Clerk, Settled
from docgen.returns.diagnostic import Refused
from docgen.returns.identity import IssuedSheet
from docgen.returns.prompts import Prompt, prompts
from docgen.returns.walk import Walk, done_with, save_draft

WORDS = """\
  Enter   leave the box blank, or keep what stands in [ ]
  -       empty a box that was filled
  back    go to the box before
  ?       show these words again
  stop    keep what was typed, and go on another day"""

KEPT = "Kept. The same command goes on from here."
"""Said where somebody stops, or nobody answers any more."""


class Stopped(Exception):
    """Somebody goes on another day."""

    def __init__(self, who: Asks) -> None:
        super().__init__()
        who.say("")


def ask(who: Asks, walk: Walk, path: Path, only: bool = False) -> None:
    """Ask until the end, or one question only; after each the draft is kept. Errors: Stopped, Unanswered."""
    section = row = ""
    while (prompt := walk.current) is not None:
        if prompt.section.key != section:
            who.say(f"\n{prompt.section.title}" + (f"  ({prompt.section.note})" if prompt.section.note else ""))
        if prompt.row.key != row and not prompt.alone:
            name = f"{prompt.row.label}  {prompt.row.name}" if prompt.row.label else prompt.row.name
            who.say("\n".join((f"  {name}", *(f"      {text}" for text in prompt.row.told))))
        section, row = prompt.section.key, prompt.row.key
        try:
            moved = _lines(who, walk, prompt) if prompt.kind == "lines" else _box(who, walk, prompt)
        except (Stopped, Unanswered):
            save_draft(path, walk)
            raise
        if moved:
            save_draft(path, walk)
        if moved and only:
            return


def _box(who: Asks, walk: Walk, prompt: Prompt) -> bool:
    """Ask for one box; whether the walk moved on."""
    typed = who.typed(prompt.asks, prompt.shown(walk.answers)).strip()
    word = typed.casefold()
    if word == "stop":
        raise Stopped(who)
    if word in ("?", "help"):
        who.say(WORDS)
        return False
    if word == "back":
        walk.back()
        return True
    try:
        said = walk.answer("" if typed == "-" else typed)
    except Refused as refused:
        say_refused(who, refused, "      ")
        return False
    if said:
        who.say(f"      {said}")
    return True


def say_refused(who: Asks, refused: Refused, indent: str = "  ") -> None:
    """Say why an answer is not taken."""
    said = refused.said
    who.say(f"{indent}{said.message}" + (f": {said.hint}" if said.hint else ""))


def _lines(who: Asks, walk: Walk, prompt: Prompt) -> bool:
    """Ask for the findings, a line each; an empty line ends."""
    lines = [line for line in walk.answers.get(prompt.field, "").split("\n") if line]
    for line in lines:
        who.say(f"      {line}")
    while typed := who.typed(f"    {'next line' if lines else 'one finding a line; an empty line ends'}", "").strip():
        if typed.casefold() == "stop":
            raise Stopped(who)
        if typed.casefold() == "back":
            walk.back()
            return True
        lines = [] if typed == "-" else [*lines, typed]
        walk.answers[prompt.field] = "\n".join(lines)
    walk.on()
    return True


def file_typed(clerk: Clerk, sheet: IssuedSheet, walk: Walk, path: Path, papers: Sequence[Paper] = ()) -> Settled:
    """File what was typed; what is refused is asked for again, as long as somebody wants to."""
    who = clerk.who
    while True:
        who.say("")
        settled = clerk.settle(sheet, walk.answers, papers)
        if settled.state != "not filed":
            _put_away(who, path, walk, settled.still_open)
            return settled
        field = next((one.field for one in settled.said if one.weight == "refused" and one.field), "")
        whole = Walk(prompts(sheet.job), walk.answers)
        walk = next((one for one in (walk, whole) if one.go(field)), walk) if field else walk
        if not field or walk.current is None or walk.current.field != field:
            break
        if not who.asked(f"Go back to: {walk.current.row.name}?", usual=True):
            break
        ask(who, walk, path, only=True)
        walk.at = len(walk.prompts)
        save_draft(path, walk)
    who.say("What was typed is kept: the same command goes on from here.")
    return settled


def _put_away(who: Asks, draft: Path, walk: Walk, still_open: str) -> None:
    """Take the draft of a sheet away that is filed; one that stays does no harm, since the sheet is known as filed."""
    try:
        done_with(draft, walk, still_open)
        if still_open:
            who.say("What was typed is kept for the jobs that stay open: the same command goes on from here.")
    except (StoreError, OSError) as error:
        why = error.message if isinstance(error, StoreError) else error.strerror
        who.warn(f"Its draft could not be put away ({why}): delete {draft}")
