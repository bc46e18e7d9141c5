"""Components through all their engines, and part life, against a slow reckoning that walks every day in order."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.log import Entry, Log
from docgen.club.schema.engine import Engine
from docgen.club.schema.event import KINDS
from docgen.club.schema.model import Model
from docgen.club.yamldoc import Document
from docgen.job.components import Component, components
from docgen.job.state import state_of

FIRST = date(2030, 1, 1)
ENGINES = ("1", "2", "3")
NUMBERS = ("C-1", "C-2", "C-3", "C-4")
MODEL = Model.model_validate(
    {
        "model": "m", "title": "M", "manual": "b", "equipment": ["x"], "fasteners": {},
        "parts": {
            "carburettor": {},
            "diaphragm": {"part_of": "carburettor", "life": "10 h"},
            "reed": {"life": "10 h"},
        },
    }
)  # fmt: skip
NOWHERE = Document("log", "", {}, {}, {})


def folder_of(events: dict[str, list[dict[str, Any]]]) -> Folder:
    """Three engines with these events in the order in which they were written down; engine 1 came with C-1."""
    engines = {}
    for number in ENGINES:
        engine: dict[str, Any] = {"engine": number, "model": "m", "keeper": "k", "received": str(FIRST)}
        if number == "1":
            engine |= {"hours": "2 h", "components": {"carburettor": "C-1"}}
        entries = tuple(
            Entry(f"{n:012x}{number:>052}", KINDS[e["event"]].model_validate(e), NOWHERE)
            for n, e in enumerate(events.get(number, []))
        )
        engines[number] = EngineRecord(Engine.model_validate(engine), NOWHERE, Log(entries))
    return Folder(Path(), engines=engines, models={"m": Read(MODEL, NOWHERE)})


@dataclass
class Slowly:
    """What happened, day by day: hours of engines and components, hours since a renewal, where each component is."""

    engines: dict[str, Fraction] = field(default_factory=lambda: {"1": Fraction(2), "2": Fraction(0), "3": Fraction(0)})
    on: dict[str, str] = field(default_factory=lambda: {"1": "C-1"})
    recorded: dict[str, Fraction] = field(default_factory=lambda: {"C-1": Fraction(0)})
    diaphragm: dict[str, Fraction | None] = field(default_factory=lambda: {"C-1": Fraction(2)})
    reed: dict[str, Fraction] = field(default_factory=lambda: {"1": Fraction(2), "2": Fraction(0), "3": Fraction(0)})
    done: dict[str, Fraction] = field(default_factory=dict)
    events: dict[str, list[dict[str, Any]]] = field(default_factory=lambda: {e: [] for e in ENGINES})

    def run(self, day: date, engine: str, minutes: int) -> None:
        hours = Fraction(minutes, 60)
        self.events[engine].append({"event": "run", "date": str(day), "hours": f"{minutes} min"})
        self.engines[engine] += hours
        self.reed[engine] += hours
        number = self.on.get(engine)
        if number is not None:
            self.recorded[number] += hours
            old = self.diaphragm[number]
            self.diaphragm[number] = None if old is None else old + hours
            if number in self.done:
                self.done[number] += hours

    def service(self, day: date, engine: str, renewed: list[str]) -> None:
        self.events[engine].append({"event": "service", "date": str(day), "procedure": "kit", "revision": "1",
                                    "renewed": dict.fromkeys(renewed, "N")})  # fmt: skip
        number = self.on.get(engine)
        if "reed" in renewed:
            self.reed[engine] = Fraction(0)
        if number is not None:
            self.done[number] = Fraction(0)
            if "diaphragm" in renewed:
                self.diaphragm[number] = Fraction(0)

    def move(self, day: date, number: str, engine: str) -> None:
        """The component goes on the engine; what was there goes to the shelf, and so does it where it was."""
        before = next((e for e, n in self.on.items() if n == number), None)
        if before == engine:
            return
        if before is not None:
            del self.on[before]
            self.events[before].append({"event": "component", "date": str(day), "component": "carburettor",
                                        "removed": number})  # fmt: skip
        if number not in self.recorded:
            self.recorded[number], self.diaphragm[number] = Fraction(0), None
        event = {"event": "component", "date": str(day), "component": "carburettor", "fitted": number}
        if engine in self.on:
            event["removed"] = self.on[engine]
        self.on[engine] = number
        self.events[engine].append(event)


steps = st.lists(
    st.one_of(
        st.tuples(st.just("run"), st.sampled_from(ENGINES), st.integers(1, 300)),
        st.tuples(st.just("service"), st.sampled_from(ENGINES), st.sampled_from([[], ["diaphragm"], ["reed"]])),
        st.tuples(st.just("move"), st.sampled_from(NUMBERS), st.sampled_from(ENGINES)),
    ),
    max_size=40,
)


@given(steps, st.randoms(use_true_random=False))
def test_hours_and_part_life_are_those_of_a_slow_walk_however_late_entered(steps: list[Any], rng: Any) -> None:
    slow = Slowly()
    for number, (kind, one, other) in enumerate(steps, 1):
        getattr(slow, kind)(FIRST + timedelta(days=number), one, other)
    for events in slow.events.values():
        rng.shuffle(events)
    folder = folder_of(slow.events)
    on = FIRST + timedelta(days=len(steps))
    found = {number: one for (_, number), one in components(folder, on).items()}
    assert {n: c.life.recorded for n, c in found.items()} == slow.recorded
    assert {c.life.engine: n for n, c in found.items() if c.life.engine} == slow.on
    assert {n: c.since_renewed("diaphragm") for n, c in found.items()} == slow.diaphragm
    assert {n: done.since for n, c in found.items() if (done := c.last_done("kit"))} == slow.done
    for engine in ENGINES:
        state = state_of(folder.engines[engine], on)
        assert state.hours == slow.engines[engine]
        assert state.components == ({"carburettor": slow.on[engine]} if engine in slow.on else {})
        renewed = state.renewed.get("reed")
        assert state.hours - (renewed.hours if renewed else 0) == slow.reed[engine]


@given(steps, st.integers(0, 40))
def test_a_day_in_the_past_is_seen_as_it_was(steps: list[Any], until: int) -> None:
    """The state on a day is what it was before anything later was filed."""
    slow, whole = Slowly(), Slowly()
    for number, (kind, one, other) in enumerate(steps, 1):
        day = FIRST + timedelta(days=number)
        getattr(whole, kind)(day, one, other)
        if number <= until:
            getattr(slow, kind)(day, one, other)
    found = components(folder_of(whole.events), FIRST + timedelta(days=until))
    assert {n: c.life.recorded for (_, n), c in found.items()} == slow.recorded


def only(events: dict[str, list[dict[str, Any]]], number: str) -> Component:
    return components(folder_of(events), date(2031, 1, 1))[("carburettor", number)]


def test_hours_before_the_record_are_kept_and_not_made_up() -> None:
    def fitted(**more: str) -> list[dict[str, Any]]:
        return [{"event": "component", "date": "2030-02-01", "component": "carburettor", "fitted": "C-9", **more},
                {"event": "run", "date": "2030-02-02", "hours": "90 min"}]  # fmt: skip

    assert only({"2": fitted(before="3.5 h")}, "C-9").life.since_new == 5
    assert only({"2": fitted(before="0 h")}, "C-9").life.since_new == Fraction(3, 2)
    assert only({"2": fitted()}, "C-9").life.since_new is None
    assert only({}, "C-1").life.since_new == 2


def test_two_engines_that_claim_one_component_do_not_stop_the_reckoning() -> None:
    claims = {e: [{"event": "component", "date": "2030-02-01", "component": "carburettor", "fitted": "C-9"},
                  {"event": "run", "date": "2030-02-02", "hours": "1 h"}] for e in ("2", "3")}  # fmt: skip
    assert only(claims, "C-9").life.recorded == 2
