"""Which changes are harmful: decided from pairs of actions, without simulating anything.

The shipped job is taken as right. Its actions are written down in order. Some pairs of them cannot change places on a
real engine: both handle one thing; one is in front of, or holds, the other's thing; something is cleaned and then
greased; something locked cures before it is loaded; nothing is open when the engine runs; a drain is closed before
filling; what is measured is in reach, with the crank where it belongs; what goes into an opening comes out. A change is

harmful   when it loses, adds or exchanges an action on the engine, or turns such a pair round;
untold    when it only loses or moves what stands for itself (a look, a reading, a hold, a text without action): the
          rest is a shorter or differently ordered job, and nobody who has only the new file can tell;
harmless  when every action is still there and no pair that matters is turned round.

This is a different argument from the simulation's, which knows no original and keeps a state.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from benchmarks.mutation.mutant import Class
from docgen.club.schema.club import Club
from docgen.club.schema.model import Fastener, Model, Part
from docgen.club.schema.procedure import Step

ASSEMBLY = ("undoes", "removes", "renews", "fits", "starts", "tightens")
ON_ITEMS = (*ASSEMBLY, "cleans", "applies")
GREASES = ("grease", "oil", "chain-lubricant")


@dataclass(frozen=True)
class Action:
    """One thing done: the step's key, what it is done to, with what."""

    verb: str
    item: str
    with_: str = ""


def actions(steps: Iterable[Step]) -> list[Action]:
    """What some steps do, in order; a step that states nothing is one action of its text."""
    return [action for step in steps for action in _of(step)]


def _of(step: Step) -> list[Action]:
    found = [Action(verb, name) for verb in ("undoes", "removes") for name in getattr(step, verb)]
    found += [Action("drains", name) for name in step.drains]
    found += [Action("clears", name) for name in step.clears]
    found += [Action("turns", name, step.crank or "") for name in step.turns]
    found += [Action("cleans", part, clean.material or "") for part, clean in step.cleans.items()]
    found += [Action("applies", name, material) for material, use in step.applies.items() for name in use.to]
    found += [Action(verb, name) for verb in ("renews", "fits", "starts") for name in getattr(step, verb)]
    found += [Action("tightens", name, "again" if step.again else "") for name in step.tightens]
    found += [Action("fills", name) for name in step.fills]
    found += [Action("packs", name) for name in step.packs]
    found += [Action(verb, name) for verb in ("finds", "sets", "loads") for name in getattr(step, verb)]
    found += [Action("measure", name) for name in (step.measure.of if step.measure else ())]
    found += [Action("look", step.look.id)] if step.look else []
    found += [Action("hold", step.hold.why)] if step.hold else []
    found += [Action("wait", str(step.wait.for_))] if step.wait else []
    found += [Action("runs", "")] if step.runs else []
    found += [Action("makes", what) for what in step.makes]
    return found or [Action("text", step.do or "")]


class Oracle:
    """The pairs that matter on one engine type."""

    def __init__(self, model: Model, club: Club) -> None:
        self.model, self.club = model, club
        self.items: Mapping[str, Part | Fastener] = {**model.parts, **model.fasteners}
        self.front = {name: self._in_front(name) for name in self.items}

    def judge(self, before: list[Action], after: list[Action]) -> tuple[Class, str]:
        """The class of a change, and the reason."""
        lost, added = Counter(before) - Counter(after), Counter(after) - Counter(before)
        reasons = [self._lost(action, before, after) for action in lost] + [self._added(action) for action in added]
        reasons += list(self._turned(before, after))
        for wanted in ("harmful", "untold"):
            for verdict, why in reasons:
                if verdict == wanted:
                    return verdict, why
        return "harmless", "every action is still there, and no pair that matters is turned round"

    def _lost(self, action: Action, before: list[Action], after: list[Action]) -> tuple[Class, str]:
        what = f"{action.verb} {action.item}".strip()
        if action.verb in ("drains", "fills"):
            return "harmful", f"lost: {what}"
        paired = any(a.verb in ("packs", "clears") and a.item == action.item for a in after)
        if action.verb in ("packs", "clears") and action not in after and paired:
            return "harmful", f"lost: {what}, the other of the two is still there"
        if action.verb == "turns" and action not in after and any(self._at_crank(a) for a in after):
            return "harmful", f"lost: {what}, after which something is measured"
        if action.verb in ASSEMBLY and action.with_ != "again":
            return "harmful", f"lost: {what}"
        if action.verb == "cleans" and self._must_be_clean(action, before):
            return "harmful", f"lost: {what}, which the model or a later greasing asks for"
        if action.verb == "applies" and self._kind(action) in GREASES and not self._tested(action, before):
            return "harmful", f"lost: {what}, which runs dry"
        if action.verb == "sets" and Action("finds", action.item) in after:
            return "harmful", f"lost: {what}, noted as found"
        if action.verb == "measure" and self._feeds(action.item, before):
            return "harmful", f"lost: {what}, from which another reading follows"
        if action.verb == "wait" and any(self._necessary(action, other, before) for other in before):
            return "harmful", f"lost: {what}, which something needs to cure or dry"
        return "untold", f"lost: {what}; what is left is a shorter job"

    def _added(self, action: Action) -> tuple[Class, str]:
        item = self.items.get(_base(action.item))
        if action.with_ == "again" or (action.verb == "undoes" and getattr(item, "releases", "off") == "loose"):
            return "untold", f"added: {action.verb} {action.item}, once more of the same"
        if action.verb in (*ASSEMBLY, "drains", "fills"):
            return "harmful", f"added: {action.verb} {action.item}"
        return "harmless", f"added: {action.verb} {action.item}"

    def _turned(self, before: list[Action], after: list[Action]) -> Iterator[tuple[Class, str]]:
        place = {key: index for index, key in enumerate(_numbered(after))}
        old = [(key, key[0]) for key in _numbered(before) if key in place]
        for i, (first, one) in enumerate(old):
            for second, other in old[i + 1 :]:
                if place[first] > place[second]:
                    if self._necessary(one, other, before):
                        yield "harmful", f"turned round: {one.verb} {one.item}, then {other.verb} {other.item}"
                    elif self._matter_of_judgement(one, other):
                        yield "untold", f"moved: {one.verb} {one.item}, {other.verb} {other.item}"

    def _necessary(self, one: Action, other: Action, job: list[Action]) -> bool:
        verbs = {one.verb, other.verb}
        if one.verb in ASSEMBLY and other.verb in ASSEMBLY:
            picked_up = any(a.verb == "renews" and _base(a.item) in self.model.fasteners for a in (one, other))
            return _base(one.item) == _base(other.item) if picked_up else self._touch(one.item, other.item)
        flowing = {"drains", "fills"} & verbs
        if flowing:
            return self._flows(one, other)
        if {"packs", "clears"} & verbs:
            return _base(one.item) == _base(other.item) and bool(verbs & {*ASSEMBLY, "packs", "clears"})
        if "turns" in verbs and "measure" in verbs:
            reading, turn = (one, other) if one.verb == "measure" else (other, one)
            return self._at_crank(reading) and job.count(turn) == 1 and job.count(reading) == 1
        if "measure" in verbs and verbs & set(ASSEMBLY):
            reading, work = (one, other) if one.verb == "measure" else (other, one)
            return self._reached_by(reading.item, work.item)
        if "runs" in verbs:
            return bool(verbs & set(ASSEMBLY)) or ("wait" in verbs and self._locks(job))
        if "wait" in verbs:
            partner = other if one.verb == "wait" else one
            return partner.verb in (("applies", "loads") if one.verb == "wait" else ("cleans", "tightens")) and (
                self._waited_for(partner, job)
            )
        if verbs == {"loads", "tightens"}:
            return _base(one.item) == _base(other.item)
        if verbs == {"finds", "sets"}:
            return one.item == other.item
        if verbs == {"measure"}:
            return other.item in self._made_from(one.item) or one.item in self._made_from(other.item)
        if verbs & {"cleans", "applies"}:
            return self._chemistry(one, other, job)
        return False

    def _flows(self, one: Action, other: Action) -> bool:
        """Whether two actions, one of them on a fluid, may not change places."""
        fluid, work = (one, other) if one.verb in ("drains", "fills") else (other, one)
        held = self.model.fluids.get(fluid.item)
        if held is None or work.verb in ("drains", "fills"):
            return work.item == fluid.item
        ways = {*held.drain, *(held.fill if fluid.verb == "fills" else ())}
        return work.verb == "runs" or (work.verb in ASSEMBLY and _base(work.item) in ways)

    def _at_crank(self, action: Action) -> bool:
        limit = self.model.limits.get(action.item) if action.verb == "measure" else None
        return limit is not None and limit.crank is not None

    def _reached_by(self, limit: str, item: str) -> bool:
        """Whether an item must be off while something is measured, or lies in front of what must be."""
        known = self.model.limits.get(limit)
        behind = {_base(name) for name in known.behind} if known else set()
        return bool(behind & {_base(item)} or any(_base(item) in self.front.get(one, ()) for one in behind))

    def _chemistry(self, one: Action, other: Action, job: list[Action]) -> bool:
        if one.verb == other.verb:
            return False
        if {one.verb, other.verb} == {"cleans", "applies"}:
            return self._same_thread(one.item, other.item)
        chemical, work = (one, other) if one.verb in ("cleans", "applies") else (other, one)
        if work.verb not in ASSEMBLY:
            return False
        if chemical.verb == "applies":
            return self._kind(chemical) == "threadlocker" and self._same_thread(chemical.item, work.item)
        if self._locker(work.item):
            return self._same_thread(chemical.item, work.item)
        if work.verb in ("undoes", "removes"):
            greased = any(a.verb == "applies" and a.item == chemical.item and self._kind(a) in GREASES for a in job)
            washed_first = chemical == one and _base(work.item) in self._opens(chemical.item)
            return (chemical == other and greased and work.item == chemical.item) or washed_first
        return False

    def _matter_of_judgement(self, one: Action, other: Action) -> bool:
        """A look or a reading among looks and readings stands where it likes; beside work, only its writer knows."""
        checks = ("look", "measure")
        if one.verb in checks and other.verb in checks:
            return False
        if one.verb in ON_ITEMS and other.verb in ON_ITEMS:
            return bool({one.verb, other.verb} & {"cleans", "applies"}) and self._same_thread(one.item, other.item)
        return True

    def _touch(self, a: str, b: str) -> bool:
        """Whether two items lie so that the order of work on them matters."""
        a, b = _base(a), _base(b)
        if a not in self.items or b not in self.items:
            return True
        isolator = self.model.isolator
        live = isolator in (a, b) and self._electric(b if a == isolator else a)
        covered = a == b or a in self.front[b] or b in self.front[a]
        return covered or live or self._one_holds(a, b) or self._inside(a, b) or self._inside(b, a)

    def _in_front(self, name: str) -> set[str]:
        found: set[str] = set()
        waiting = [_base(n) for n in self.items[name].behind]
        while waiting:
            one = waiting.pop()
            if one in self.items and one not in found:
                found.add(one)
                waiting += [_base(n) for n in self.items[one].behind]
        return found

    def _one_holds(self, a: str, b: str) -> bool:
        held = {name: {_base(f) for f in part.held_by} for name, part in self.model.parts.items()}
        return b in held.get(a, ()) or a in held.get(b, ())

    def _inside(self, a: str, b: str) -> bool:
        part_of = self.items[a].part_of
        return part_of == b and self.items[a].bench

    def _electric(self, name: str) -> bool:
        touched = [self.items[name], *(self.items[_base(f)] for f in getattr(self.items[name], "held_by", ()))]
        return any("current" in item.hazards for item in touched)

    def _same_thread(self, a: str, b: str) -> bool:
        def thread(name: str) -> str:
            item = self.items.get(_base(name))
            return (item.onto if isinstance(item, Fastener) and item.onto else None) or _base(name)

        return thread(a) == thread(b)

    def _locker(self, name: str) -> bool:
        item = self.items.get(_base(name))
        return isinstance(item, Fastener) and item.locker is not None

    def _locks(self, job: list[Action]) -> bool:
        return any(a.verb == "tightens" and self._locker(a.item) for a in job)

    def _waited_for(self, partner: Action, job: list[Action]) -> bool:
        if partner.verb == "tightens":
            loaded = any(a.verb == "runs" or (a.verb == "loads" and a.item == partner.item) for a in job)
            return self._locker(partner.item) and loaded
        if partner.verb == "loads":
            return self._locker(partner.item)
        greased = {a.item for a in job if a.verb == "applies" and self._kind(a) in GREASES}
        cleaned = {a.item for a in job if a.verb == "cleans"}
        return partner.verb in ("cleans", "applies") and partner.item in greased & cleaned

    def _must_be_clean(self, action: Action, job: list[Action]) -> bool:
        greased = any(
            a.verb == "applies" and not self._tested(a, job) and self._same_thread(a.item, action.item) for a in job
        )
        alike = [a for a in job if self._same_thread(a.item, action.item)]
        locked = [a for a in alike if a.verb == "tightens" and self._locker(a.item)]
        later = [a for a in alike if a.verb == "cleans"]
        opened = self._opens(action.item) & {_base(a.item) for a in job if a.verb in ("undoes", "removes")}
        return (bool(greased or locked) and len(later) == 1) or (bool(opened) and later[:1] == [action])

    def _opens(self, name: str) -> set[str]:
        part = self.model.parts.get(_base(name))
        if part is None or not part.clean_first:
            return set()
        return {n for n, item in self.items.items() if item.part_of == _base(name) and item.bench} or {_base(name)}

    def _tested(self, action: Action, job: list[Action]) -> bool:
        material = self.club.materials.get(action.with_)
        return material is not None and "test" in material.name.lower()

    def _kind(self, action: Action) -> str:
        material = self.club.materials.get(action.with_)
        return material.kind if material else ""

    def _made_from(self, name: str) -> tuple[str, ...]:
        limit = self.model.limits.get(name)
        derived = limit.derived if limit else None
        return (derived.difference or derived.average or derived.spread or ()) if derived else ()

    def _feeds(self, name: str, job: list[Action]) -> bool:
        return any(a.verb == "measure" and name in self._made_from(a.item) for a in job)


def _base(name: str) -> str:
    return name.partition("/")[0]


def _numbered(found: Iterable[Action]) -> list[tuple[Action, int]]:
    seen: Counter[Action] = Counter()
    numbered = []
    for action in found:
        numbered.append((action, seen[action]))
        seen[action] += 1
    return numbered
