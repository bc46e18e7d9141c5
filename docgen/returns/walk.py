"""A guided entry on its way through a sheet: where it stands, what was answered, one step back; kept in a draft."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.store import replace, to_yaml
from docgen.club.yamltext import read_yaml
from docgen.job.issue import stem
from docgen.job.number import SheetNumber
from docgen.returns.diagnostic import Refused
from docgen.returns.prompts import Prompt


@dataclass
class Walk:
    """The questions, the answers so far by field, and the place of the question to ask now, past the end when done.

    ``short``: only what is asked although all is well.
    """

    prompts: tuple[Prompt, ...]
    answers: dict[str, str] = field(default_factory=dict)
    at: int = 0
    short: bool = False

    @property
    def current(self) -> Prompt | None:
        """The question to ask now; None at the end."""
        return self.prompts[self.at] if self.at < len(self.prompts) else None

    def answer(self, typed: str) -> str:
        """Take the answer to the current question and go on; what was understood. Errors: Refused, and it stays."""
        prompt = self.prompts[self.at]
        filled, said = prompt.take(typed)
        self.answers.update(filled)
        self.on()
        return said

    def on(self) -> None:
        """Go to the next question that applies."""
        self.at += 1
        while self.at < len(self.prompts) and not self._applies(self.prompts[self.at]):
            self.at += 1

    def back(self) -> None:
        """Go to the question before."""
        at = self.at - 1
        while at > 0 and not self._applies(self.prompts[at]):
            at -= 1
        self.at = max(at, 0)

    def go(self, name: str) -> bool:
        """Go to the question that fills a field; False where there is none."""
        for at, prompt in enumerate(self.prompts):
            if name == prompt.field:
                self.at = at
                return True
        return False

    def _applies(self, prompt: Prompt) -> bool:
        """A part's number only follows a part that was renewed, and so on."""
        if prompt.needs:
            return bool(self.answers.get(prompt.needs))
        # Where the wrench of an earlier fastener was left blank, nobody noted any.
        before = self.prompts[: self.prompts.index(prompt)] if self.short and prompt.wrench else ()
        return not any(one.wrench and not self.answers.get(one.field) for one in before)


def draft_path(root: Path, number: SheetNumber) -> Path:
    """Where an unfinished entry lies: beside the engine's log, not in it."""
    return root / "engines" / number.engine / "drafts" / f"{stem(number)}.yaml"


def save_draft(path: Path, walk: Walk) -> None:
    """Keep an unfinished entry, in the place of its earlier draft. Errors: StoreError, OSError."""
    prompt = walk.current
    answers = {k: v for k, v in walk.answers.items() if v}
    data = {"at": prompt.field if prompt else "", "short": "y" if walk.short else "", "answers": answers}
    comment = "An entry that is not finished: docgen enter goes on with it. It can be deleted."
    replace(path, to_yaml({k: v for k, v in data.items() if v}, comment=comment).encode())


def done_with(path: Path, walk: Walk, still_open: str = "") -> None:
    """Take the draft of a sheet away that is filed; that of a visit is kept while a job stays open.

    still_open : the box of the first such job, at which the draft then goes on. Errors: StoreError, OSError.
    """
    if still_open and walk.go(still_open):
        save_draft(path, walk)
    else:
        path.unlink(missing_ok=True)


def load_draft(path: Path, walk: Walk) -> bool:
    """Go on where a draft ends; False where there is none. Errors: Refused when it cannot be read."""
    try:
        text = bounded(path)
    except FileNotFoundError:
        return False
    except OSError as error:
        raise _unreadable(path, str(error.strerror)) from error
    document, problems = read_yaml(str(path), text)
    data = document.data if document is not None and not problems else None
    answers = data.get("answers", {}) if isinstance(data, Mapping) else None
    if not isinstance(data, Mapping) or not isinstance(answers, Mapping):
        raise _unreadable(path, problems[0].message if problems else "it is not a draft")
    known = {one.name for prompt in walk.prompts for one in prompt.row.fields}
    walk.answers = {k: v for k, v in answers.items() if k in known and isinstance(v, str)}
    at, walk.short = str(data.get("at", "")), bool(data.get("short"))
    walk.at = next((n for n, prompt in enumerate(walk.prompts) if prompt.field == at), len(walk.prompts))
    return True


def _unreadable(path: Path, why: str) -> Refused:
    return Refused("draft-unreadable", f"{path} cannot be read: {why}", "delete it, and begin anew")
