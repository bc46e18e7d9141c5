"""Operators on procedures and sequences."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from functools import cache
from itertools import pairwise
from typing import Any

from benchmarks.mutation.mutant import Class, Kind, Mutant, affected, changed
from benchmarks.mutation.oracle import ASSEMBLY, Action, Oracle, actions
from docgen.club.folder import Folder
from docgen.club.uses import applies
from docgen.job.expand import expand

Data = dict[str, Any]
APART = (1, 2, 5, 11)
"""How far apart the two steps are that change places."""
WORK = (*ASSEMBLY, "cleans", "applies", "finds", "sets", "measure", "look", "wait", "runs", "again")
NOTE = {"en": "Worn parts show here first.", "de": "Hier zeigt sich Verschleiß zuerst."}
TIDY = {"en": "Tidy the bench.", "de": "Werkbank aufräumen."}
TITLE = {"en": "Another title", "de": "Ein anderer Titel"}
ASIDE = ("hold", "loads", "makes", "meets", "tools", "repeat")


class Mutator:
    """Makes the mutants of one procedure or sequence and classes them."""

    def __init__(self, folder: Folder, kind: Kind, name: str, lot: Callable[[], bool] = lambda: True) -> None:
        """`lot` says of each change whether it is made at all: to judge one takes as long as to find it."""
        self.folder, self.kind, self.name, self.lot = folder, kind, name, lot
        self.data: Data = getattr(folder, kind)[name].document.data
        self.before = list(_jobs(folder, kind, name))
        self.oracles = oracles(folder)
        self.has_rows = any({"row", "adds"} & step.keys() for _, steps in _lists(self.data) for step in steps)

    def mutants(self) -> Iterator[Mutant]:
        """All mutants of the file; those that the operator leaves as they were are passed over."""
        for make in (self._dropped, self._doubled, self._swapped, self._verbless, self._lists, self._exchanged,
                     self._retargeted, self._reworded):  # fmt: skip
            yield from make()

    def _mutant(self, operator: str, where: str, change: Callable[[Data], None], verdict: Class | None = None,
                why: str = "") -> Iterator[Mutant]:  # fmt: skip
        if not self.lot():
            return
        data = deepcopy(self.data)
        change(data)
        if data == self.data:
            return
        if verdict is None:
            verdict, why = self._judge(data)
            if verdict == "harmless" and operator.startswith("swap") and self.has_rows:
                verdict, why = "untold", "the work is the same, but other rows of the leaf gather it"
        yield Mutant(self.kind, self.name, operator, where, data, verdict, why)

    def _judge(self, data: Data) -> tuple[Class, str]:
        """The worst class over all jobs and engine types that the change touches."""
        club, problems = changed(self.folder, self.kind, self.name, data)
        if problems:
            return "harmful", f"the file is no {self.kind[:-1]} any more: {problems[0].message}"
        found = [
            self.oracles[model].judge(before, after)
            for (model, before), (_, after) in zip(self.before, _jobs(club, self.kind, self.name), strict=True)
            if before != after
        ]
        order = {"harmful": 0, "untold": 1, "harmless": 2}
        return min(found, key=lambda one: order[one[0]], default=("harmless", "no action changed"))

    def _dropped(self) -> Iterator[Mutant]:
        for place, steps in _lists(self.data):
            for index in range(len(steps)):
                if len(steps) > 1:
                    yield from self._mutant("drop a step", _where(place, index, steps), lambda d, p=place, i=index:
                                            _at(d, p).pop(i))  # fmt: skip

    def _doubled(self) -> Iterator[Mutant]:
        for place, steps in _lists(self.data):
            for index, step in enumerate(steps):
                if not {"id", "look", "use", "hold"} & step.keys():
                    yield from self._mutant("double a step", _where(place, index, steps), lambda d, p=place, i=index:
                                            _at(d, p).insert(i, deepcopy(_at(d, p)[i])))  # fmt: skip

    def _swapped(self) -> Iterator[Mutant]:
        flat = [(place, index) for place, steps in _lists(self.data) for index in range(len(steps))]
        for apart in APART:
            for (p, i), (q, j) in zip(flat, flat[apart:], strict=False):

                def change(d: Data, p: Any = p, i: int = i, q: Any = q, j: int = j) -> None:
                    _at(d, p)[i], _at(d, q)[j] = _at(d, q)[j], _at(d, p)[i]

                where = f"{_where(p, i, _at(self.data, p))} <-> {_where(q, j, _at(self.data, q))}"
                yield from self._mutant(f"swap two steps, {apart} apart", where, change)

    def _verbless(self) -> Iterator[Mutant]:
        for place, steps in _lists(self.data):
            for index, step in enumerate(steps):
                for key in (k for k in step if k in WORK):
                    yield from self._mutant(
                        "drop a verb", f"{_where(place, index, steps)}: {key}",
                        lambda d, p=place, i=index, k=key: _at(d, p)[i].pop(k),
                        "harmful", "the text still tells of the work, and nothing is printed, listed or signed for it",
                    )  # fmt: skip
                for key in (k for k in step if k in ASIDE):
                    yield from self._mutant(
                        "drop an aside", f"{_where(place, index, steps)}: {key}",
                        lambda d, p=place, i=index, k=key: _at(d, p)[i].pop(k),
                        "untold", "the work is the same; nobody who has only the new file can tell",
                    )  # fmt: skip

    def _lists(self) -> Iterator[Mutant]:
        for place, steps in _lists(self.data):
            for index, step in enumerate(steps):
                for key in (k for k in ASSEMBLY if isinstance(step.get(k), list) and len(step[k]) > 1):
                    where = f"{_where(place, index, steps)}: {key}"
                    yield from self._mutant("reverse an order", where,
                                            lambda d, p=place, i=index, k=key: _at(d, p)[i][k].reverse())  # fmt: skip
                    for at in range(len(step[key])):
                        yield from self._mutant("drop an item", f"{where} {step[key][at]}", lambda d, p=place, i=index,
                                                k=key, a=at: _at(d, p)[i][k].pop(a))  # fmt: skip

    def _exchanged(self) -> Iterator[Mutant]:
        """The things of two steps with the same verb change places, the texts do not."""
        flat = [(p, i, s) for p, steps in _lists(self.data) for i, s in enumerate(steps)]
        for verb in ASSEMBLY:
            having = [(p, i, s) for p, i, s in flat if verb in s]
            for (p, i, one), (q, j, other) in pairwise(having):

                def change(d: Data, p: Any = p, i: int = i, q: Any = q, j: int = j, verb: str = verb) -> None:
                    _at(d, p)[i][verb], _at(d, q)[j][verb] = _at(d, q)[j][verb], _at(d, p)[i][verb]

                where = f"{verb} {one[verb]} <-> {other[verb]}"
                yield from self._mutant("swap parts between steps", where, change, "harmful",
                                        "text and printed figure of each step speak of different things")  # fmt: skip

    def _retargeted(self) -> Iterator[Mutant]:
        def missing(data: Data) -> tuple[Class, str]:
            club, problems = changed(self.folder, self.kind, self.name, data)
            if problems:
                return "harmful", problems[0].message
            for name in affected(club, self.kind, self.name):
                for read in club.models.values():
                    if applies(club.procedures[name].value, read.value):
                        steps = expand(club.procedures[name], club.sequences, read.value)
                        lacking = [a.item for a in actions(p.step for p in steps) if not _known(a, read.value)]
                        if lacking:
                            return "harmful", f"{lacking[0]} is not on {read.value.model}"
            return "untold", "every name is known to every type that now gets the work"

        def retarget(where: str, change: Callable[[Data], None]) -> Iterator[Mutant]:
            data = deepcopy(self.data)
            change(data)
            yield from self._mutant("retarget to other models", where, change, *missing(data))

        if "needs" in self.data:
            yield from retarget("needs", lambda d: d.pop("needs"))
        for place, steps in _lists(self.data):
            for index, step in enumerate(steps):
                if "only_with" in step:
                    yield from retarget(_where(place, index, steps), lambda d, p=place, i=index:
                                        _at(d, p)[i].pop("only_with"))  # fmt: skip

    def _tidy(self) -> Data:
        """A step of mere text; where rows are written, with a row of its own."""
        text = self._spoken(TIDY)
        return {"do": text, **({"row": text} if self.has_rows else {})}

    def _spoken(self, text: dict[str, str]) -> str | dict[str, str]:
        """A new text in the languages that the file speaks."""
        return dict(text) if isinstance(self.data["title"], dict) else text["en"]

    def _reworded(self) -> Iterator[Mutant]:
        def mild(operator: str, where: str, change: Callable[[Data], None]) -> Iterator[Mutant]:
            yield from self._mutant(operator, where, change, "harmless", "the same work, in other words")

        for place, steps in _lists(self.data):
            for index, step in enumerate(steps):
                where = _where(place, index, steps)
                if "do" not in step:
                    continue
                yield from mild("reword a text", where, lambda d, p=place, i=index:
                                _at(d, p)[i].update(do=_reworded(_at(d, p)[i]["do"])))  # fmt: skip
                yield from mild("add a note", where, lambda d, p=place, i=index:
                                _at(d, p)[i].update(why=self._spoken(NOTE)))  # fmt: skip
                yield from mild("say how long it takes", where, lambda d, p=place, i=index:
                                _at(d, p)[i].setdefault("takes", "90 s"))  # fmt: skip
            yield from mild("add a step of text", "/".join(map(str, place)), lambda d, p=place:
                            _at(d, p).append(self._tidy()))  # fmt: skip
        yield from mild("new title", "title", lambda d: d.update(title=self._spoken(TITLE)))


@cache
def _synonyms() -> tuple[tuple[re.Pattern[str], str], ...]:
    pairs = {
        "Take": "Lift", "Put": "Place", "Undo": "Unscrew", "Slide": "Push", "Look at": "Look closely at", "Lay": "Set",
        "Clean": "Wash", "Measure": "Gauge", "Let": "Leave", "Wipe": "Rub", "Turn": "Rotate",
    }  # fmt: skip
    return tuple((re.compile(rf"^{old}\b"), new) for old, new in pairs.items())


def _reworded(text: str | dict[str, str]) -> str | dict[str, str]:
    """The text in other words; of a text in several languages the English one."""
    if isinstance(text, dict):
        return {language: _in_other_words(one) if language == "en" else one for language, one in text.items()}
    return _in_other_words(text)


def _in_other_words(text: str) -> str:
    for pattern, new in _synonyms():
        if pattern.search(text):
            return pattern.sub(new, text)
    return f"{text} Go slowly."


def _lists(data: Data) -> Iterator[tuple[tuple[str | int, ...], list[Data]]]:
    if "stages" in data:
        for at, stage in enumerate(data["stages"]):
            yield ("stages", at, "steps"), stage["steps"]
    else:
        yield ("steps",), data["steps"]


def _at(data: Any, place: tuple[str | int, ...]) -> Any:
    for key in place:
        data = data[key]
    return data


def _where(place: tuple[str | int, ...], index: int, steps: list[Data]) -> str:
    step = steps[index]
    return f"{place[1] if len(place) > 1 else 0}.{index} {step.get('do') or step.get('use')}"


def _known(action: Action, model: Any) -> bool:
    base = action.item.partition("/")[0]
    places = {"measure": model.limits, "finds": model.settings, "sets": model.settings}
    if action.verb in (*ASSEMBLY, "cleans", "applies", "loads"):
        return base in model.parts or base in model.fasteners
    return base in places[action.verb] if action.verb in places else True


def _jobs(folder: Folder, kind: Kind, name: str) -> Iterator[tuple[str, list[Action]]]:
    """The actions of every job that the file touches, on every engine type that it applies to."""
    for procedure in affected(folder, kind, name) if kind == "procedures" else _users(folder, name):
        read = folder.procedures[procedure]
        for model_name, model in sorted(folder.models.items()):
            if applies(read.value, model.value):
                steps = expand(read, folder.sequences, model.value)
                yield model_name, actions(placed.step for placed in steps)


def _users(folder: Folder, sequence: str) -> list[str]:
    return affected(folder, "sequences", sequence)


@cache
def _oracle_cache() -> dict[int, dict[str, Oracle]]:
    return {}


def oracles(folder: Folder) -> dict[str, Oracle]:
    """One oracle for each engine type."""
    club = folder.club.value
    made = _oracle_cache()
    if id(folder) not in made:
        made[id(folder)] = {name: Oracle(read.value, club) for name, read in folder.models.items()}
    return made[id(folder)]
