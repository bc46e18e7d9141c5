"""Several jobs under way on one engine: how far each is, how the engine stands, and what may be done next.

What keeps a joined list true to each job:

1. Each job's steps keep their order. Only a refit that another job still needs off is left to that job.
2. What another job has off stays off until that job puts it on.
3. A step is not done again where the very same step, or one that holds all that it holds, stands for it. The very
   same words are done as the job that does them finds the engine.
4. A step finds what it speaks of, and what its job moved just before it or opens right after it, as in its own job.
   Work that its job does on a whole engine is done on a whole engine; nothing is turned, loaded or run while parts of
   it are off; what a job left on behind what it opened is on while that job looks there.
5. While the engine runs for some jobs, the work of no other comes between.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from docgen.club.bench.bench import Bench
from docgen.club.bench.state import Condition
from docgen.job.simulate import WATCHING, carry_out
from docgen.visit.pieces import WHOLE, Piece
from docgen.visit.yard import Yard

Kind = Literal["open", "work", "leave", "close"]


class Choice(NamedTuple):
    """What may be done next where it is not plain: open something, do work that another job could share later, leave
    a refit to another job, or close what another job will open again."""

    kind: Kind
    task: int


class Line(NamedTuple):
    """A piece of the joined list, the jobs that it serves, and the pieces of those jobs that it stands for."""

    piece: Piece
    serves: tuple[int, ...]
    stands: tuple[Piece, ...] = ()


@dataclass
class Floor:
    """Where all jobs are. ``lines`` is the joined list so far; ``done`` says where in it each work stands last;
    ``open`` is what is not on and tight; ``running`` are the jobs for which the engine runs."""

    yard: Yard
    at: list[int]
    bench: Bench
    last: list[int]
    lines: list[Line] = field(default_factory=list)
    done: dict[str, int] = field(default_factory=dict)
    moved: dict[str, int] = field(default_factory=dict)
    opened: set[str] = field(default_factory=set)
    hand: int = 0
    running: frozenset[int] = frozenset()
    removals: int = 0
    seconds: int = 0
    open: frozenset[str] = frozenset()
    left: list[tuple[int, Piece]] = field(default_factory=list)

    @classmethod
    def start(cls, yard: Yard) -> Floor:
        """The engine whole, no job begun."""
        count = len(yard.tasks)
        return cls(yard, [0] * count, Bench(yard.graph, WATCHING), [-1] * count)

    def copied(self) -> Floor:
        """The same, to go on from apart."""
        new = copy(self)
        new.at, new.last, new.lines, new.left = self.at[:], self.last[:], self.lines[:], self.left[:]
        new.done, new.moved, new.opened = dict(self.done), dict(self.moved), set(self.opened)
        new.bench = self._bench()
        return new

    def _bench(self) -> Bench:
        bench = copy(self.bench)
        bench.state, bench.changes, bench.faults = self.bench.state.copied(), [], []
        return bench

    @property
    def now(self) -> dict[str, Condition]:
        return self.bench.state.now

    @property
    def finished(self) -> bool:
        """Whether every job is done and the engine is whole."""
        return not self.left and not self.open and not any(self.piece(n) for n in range(len(self.at)))

    @property
    def place(self) -> object:
        """What tells one state from another."""
        return (*self.at, self.open, frozenset(self.done), frozenset(self.opened), self.running)

    def piece(self, task: int) -> Piece | None:
        """The next piece of a job; None where it is done."""
        pieces = self.yard.tasks[task].pieces
        return pieces[self.at[task]] if self.at[task] < len(pieces) else None

    def settle(self) -> None:
        """Do all that is plain: what is done already is passed over, work is done as soon as it may be, and what no
        other job needs off is closed. The job in hand goes on as far as it can."""
        while True:
            order = [self.hand, *(n for n in range(len(self.at)) if n != self.hand)]
            if not any(self._step(n) for n in order):
                return

    def _step(self, task: int) -> bool:
        """Take one job one plain piece further."""
        piece = self.piece(task)
        if piece is None:
            return False
        if self._passed(task, piece):
            return True
        if self.running and task not in self.running:
            return False
        if piece.moves and (piece.opens or self._kept_open(task, piece) or self._opened_later(task, piece)):
            return False
        if not piece.moves and (not self.may(piece) or self._shared_later(task, piece)):
            return False
        return self._do(task, piece)

    def _passed(self, task: int, piece: Piece) -> bool:
        """Pass over a piece that another one stands for; what it needs must be true now as well."""
        places: set[int] = set()
        if piece.moves:
            if any(self.now[m] != became for m, became in piece.moves):
                return False
            places = {self.moved[m] for m, _ in piece.moves if m in self.moved}
            if len(places) != 1 and piece.records:
                return False
        else:
            place = self._prepared(task, piece)
            if place is None:
                place = self._standing(task, piece)
            if place is None or task in self.lines[place].serves:
                return False
            places = {place}
        one = self.lines[max(places)] if places else None
        stands = one is not None and one.piece.stands_for(piece)
        if not stands and (piece.records or not piece.moves or piece.step.renews):
            return False
        if piece.moves and (piece.records or piece.step.renews) and max(places) <= self.last[task]:
            return False
        for place in places:
            line = self.lines[place]
            self.lines[place] = Line(line.piece, tuple(sorted({*line.serves, task})), (*line.stands, piece))
            self.last[task] = max(self.last[task], place)
        self._on(task)
        return True

    def _standing(self, task: int, piece: Piece) -> int | None:
        """Where in the list the same work stands that this job may count as its own."""
        place = self.done.get(piece.key)
        if place is None and piece.cures:
            place = self.done.get("cures")
            if place is not None and not self.lines[place].piece.stands_for(piece):
                place = None
        in_order = place is not None and (place > self.last[task] or self._readies(task, piece))
        return place if in_order else None

    def _readies(self, task: int, piece: Piece) -> bool:
        """Whether it only readies what its job opens next: when that was done does not matter, as long as it was."""
        move = self._next_move(task, self.at[task])
        return not piece.signed and not piece.step.makes and move is not None and move.opens

    def _prepared(self, task: int, piece: Piece) -> int | None:
        """Where the same work stands as what a move needs that is done already: it counts together with that."""
        place = self.done.get(piece.key)
        move = self._next_move(task, self.at[task])
        if place is None or piece.signed or move is None or any(self.now[m] != became for m, became in move.moves):
            return None
        return place if place < min(self.moved.get(m, -1) for m, _ in move.moves) else None

    def _on(self, task: int) -> None:
        """One piece further; the engine runs for a job from the start to what it next moves, waits for or starts."""
        was = self.piece(task)
        self.at[task] += 1
        after = self.piece(task)
        if was is not None and was.step.runs:
            self.running |= {task}
        if after is None or after.moves or after.step.wait or after.step.runs:
            self.running -= {task}

    def _do(self, task: int, piece: Piece) -> bool:
        """Do a piece; False, and nothing is changed, where the simulation finds fault with it."""
        bench = self._bench()
        carry_out(bench, piece.step)
        if bench.faults:
            return False
        self.bench = bench
        if piece.moves:
            self.open = frozenset(m for m, condition in self.now.items() if condition not in WHOLE)
        place = len(self.lines)
        taken = [*self._taken_over(piece)]
        self.lines.append(Line(piece, (task, *(n for n, _ in taken)), (piece, *(one for _, one in taken))))
        if piece.opens:
            again = {m for m, _ in piece.moves} & self.opened
            if again:
                self.done = {key: at for key, at in self.done.items() if not again & _scope(self.lines[at].piece)}
            self.opened |= {m for m, _ in piece.moves}
            self.removals += len(piece.items)
        if not piece.moves:
            self.done[piece.key] = place
            if piece.cures:
                self.done["cures"] = place
        self.moved |= {m: place for m, _ in piece.moves}
        self.seconds += piece.seconds
        self.last[task] = place
        self.hand = task
        self._on(task)
        return True

    def _taken_over(self, piece: Piece) -> Iterator[tuple[int, Piece]]:
        """What jobs left to another one, which is done with this."""
        for one in [one for one in self.left if piece.moves and piece.stands_for(one[1])]:
            self.left.remove(one)
            yield one

    def may(self, piece: Piece) -> bool:
        """Whether work finds the engine as its own job would, as far as that matters to it."""
        now, step = self.now, piece.step
        other = {m for m in self.open | piece.open if now[m] != piece.before[m]}
        if not other:
            return True
        if other & piece.named or other & piece.beside or step.makes or step.runs:
            return False
        if any(other & self.yard.related(m) for m in self.yard.graph.each((*step.turns, *step.loads))):
            return False
        if piece.open <= self.yard.trivial:
            return other <= self.yard.trivial and not (step.measure or step.turns or step.loads)
        covers, opened = self.yard.graph.covers, piece.open - self.yard.trivial
        return bool(piece.named) or not any(opened.intersection(covers[m]) for m in other - self.yard.trivial)

    def _kept_open(self, task: int, piece: Piece, *, early: bool = False) -> bool:
        """Whether another job has something off that this piece would close, and is not about to close it too.

        early : a job that has nothing but leads off any more, and only has to put them on, keeps none of them off
        """
        members = {m for m, _ in piece.moves}
        for n in range(len(self.at)):
            other = self.piece(n)
            if n == task or other is None or not members & other.open:
                continue
            if early and other.open <= self.yard.trivial and self._closes(n, piece):
                continue
            together = not other.opens and members & other.open <= {m for m, _ in other.moves}
            if not together or not piece.stands_for(other):
                return True
        return False

    def _closes(self, task: int, piece: Piece) -> bool:
        """Whether a job only has to put on what this piece does, at a place that this piece stands for."""
        members = {m for m, _ in piece.moves}
        if members & self.yard.reopens[task][self.at[task]]:
            return False
        rest = self.yard.tasks[task].pieces[self.at[task] :]
        return all(piece.stands_for(one) for one in rest if members & {m for m, _ in one.moves})

    def _opened_later(self, task: int, piece: Piece) -> bool:
        members = {m for m, _ in piece.moves}
        return any(members & self.yard.reopens[n][self.at[n]] for n in range(len(self.at)) if n != task)

    def _shared_later(self, task: int, piece: Piece) -> bool:
        """Whether another job comes to the same work later, or waits longer right now."""
        for n in range(len(self.at)):
            other = self.piece(n)
            if n == task or other is None:
                continue
            if piece.cures and other.cures:
                if other.cures > piece.cures:
                    return True
            elif other.key != piece.key and ((piece.cures and "cures") or piece.key) in self.yard.later[n][self.at[n]]:
                return not self._opens_alike(task, n, piece.key)
        return False

    def _opens_alike(self, task: int, other: int, key: str) -> bool:
        """Whether work comes right before the same opening in both jobs: it counts for both with that."""
        opening = self._next_move(task, self.at[task])
        if (piece := self.piece(task)) is None or piece.signed:
            return False
        pieces = self.yard.tasks[other].pieces
        place = next((n for n in range(self.at[other], len(pieces)) if pieces[n].key == key), None)
        if opening is None or not opening.opens or place is None:
            return False
        alike = self._next_move(other, place)
        return alike is not None and alike.moves == opening.moves

    def _next_move(self, task: int, place: int) -> Piece | None:
        return next((one for one in self.yard.tasks[task].pieces[place:] if one.moves), None)

    def choices(self) -> Iterator[Choice]:
        """What may be done where nothing is plain any more, the most natural first."""
        order = [self.hand, *(n for n in range(len(self.at)) if n != self.hand)]
        order = [n for n in order if n in self.running] if self.running else order
        pieces = [(n, piece) for n in order if (piece := self.piece(n)) is not None]
        opening = [(n, p) for n, p in pieces if p.opens and all(self.now[m] == p.before[m] for m, _ in p.moves)]
        opening.sort(key=lambda one: (not self._slight(one[1]), not self._turns_soon(one[0])))
        yield from (Choice("open", n) for n, _ in opening)
        working = [(n, p) for n, p in pieces if not p.moves and self.may(p)]
        yield from (Choice("work", n) for n, p in working if self._standing(n, p) is None)
        closing = [(n, p) for n, p in pieces if p.moves and not p.opens]
        yield from (Choice("leave", n) for n, p in closing if self._left_to(n, p))
        yield from (Choice("close", n) for n, p in closing if not self._kept_open(n, p, early=True))

    def _slight(self, piece: Piece) -> bool:
        return all(m in self.yard.trivial for m, _ in piece.moves)

    def _turns_soon(self, task: int) -> bool:
        """Whether a job turns something before it closes anything: others that open first are in its way."""
        for piece in self.yard.tasks[task].pieces[self.at[task] :]:
            if piece.moves and not piece.opens:
                return False
            if piece.step.turns or piece.step.loads or piece.step.makes:
                return True
        return False

    def _left_to(self, task: int, piece: Piece) -> bool:
        """Whether another job will close the same later with a piece that stands for this one."""
        for n, other in enumerate(self.yard.tasks):
            if n != task and any(not p.opens and p.moves and p.stands_for(piece) for p in other.pieces[self.at[n] :]):
                return True
        return False

    def after(self, choice: Choice) -> Floor | None:
        """The floor once something was chosen and all that is plain was done; None where it cannot be done."""
        new = self.copied()
        piece = new.piece(choice.task)
        assert piece is not None
        if choice.kind == "leave":
            new.left.append((choice.task, piece))
            new._on(choice.task)
        elif not new._do(choice.task, piece):
            return None
        new.settle()
        return new


def _scope(piece: Piece) -> frozenset[str]:
    return piece.open | piece.named
