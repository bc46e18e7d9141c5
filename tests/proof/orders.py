"""Valid orders of work on any engine, made from the model alone: what has to be off before what, sorted at random."""

from __future__ import annotations

import random
from collections.abc import Iterable
from graphlib import TopologicalSorter

from docgen.club.schema.model import Fastener, Model, Part

StepData = dict[str, object]


def needs(model: Model, name: str) -> set[str]:
    """What has to be off (or undone) before an item can move."""
    item = items(model)[name]
    found = {*item.behind, *(item.held_by if isinstance(item, Part) else ())}
    if item.bench and item.part_of:
        found.add(item.part_of)
    return {one.partition("/")[0] for one in found}


def items(model: Model) -> dict[str, Part | Fastener]:
    """All items by name."""
    return {**model.parts, **model.fasteners}


def taken_apart(model: Model, targets: Iterable[str], seed: int) -> list[str]:
    """The items that come off so that `targets` do, in one of the orders that the model allows."""
    wanted: dict[str, set[str]] = {}
    waiting = list(targets)
    while waiting:
        name = waiting.pop()
        if name not in wanted:
            wanted[name] = needs(model, name)
            waiting += wanted[name]
    sorter = TopologicalSorter(wanted)
    sorter.prepare()
    chance, order, ready = random.Random(seed), [], []
    while sorter.is_active():
        ready += sorter.get_ready()
        ready.sort()
        order.append(ready.pop(chance.randrange(len(ready))))
        sorter.done(order[-1])
    return order


def there_and_back(model: Model, order: list[str]) -> list[StepData]:
    """The steps that take the items off in this order and put them on again in reverse, single-use parts renewed."""
    return [off(model, name) for name in order] + [step for name in reversed(order) for step in on(model, name)]


def off(model: Model, name: str) -> StepData:
    """The step that takes an item off."""
    return {"removes": [name]} if name in model.parts else {"undoes": [name]}


def on(model: Model, name: str) -> list[StepData]:
    """The steps that put an item on."""
    item = items(model)[name]
    if isinstance(item, Part):
        return [{"renews" if item.single_use else "fits": [name]}]
    found: list[StepData] = [{"renews": [name]}] if item.single_use else []
    found += [{"starts": [name]}] if item.start_all_first and item.count > 1 else []
    return [*found, {"tightens": [name]}]
