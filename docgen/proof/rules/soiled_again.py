"""Oil or grease comes near a thread that was cleaned for its threadlocker, and nothing cleans it again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fastener
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.locker_on_old_locker import threads_of

SOILS = ("grease", "oil", "chain-lubricant", "anti-seize", "fuel")


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where the oil goes on. Near is the thread itself, what it runs on, and what it holds down."""
    graph = case.run.graph
    locked = [m for m, node in graph.nodes.items() if isinstance(node.spec, Fastener) and node.spec.locker]
    clean: set[str] = set()
    soiled: dict[str, Change] = {}
    for index, changes in enumerate(case.run.by_step):
        for change in changes:
            near = [m for m in locked if change.member in (m, *threads_of(case, m))]
            kind = case.kind(change.with_)
            if change.verb == "cleans":
                clean.update(near)
                for member in near:
                    soiled.pop(member, None)
            elif change.verb == "applies" and kind in SOILS:
                held = [m for m in locked if change.member in graph.holds[m]]
                for member in (m for m in (*near, *held) if m in clean and case.run.before[index][m] == "off"):
                    soiled.setdefault(member, change)
            elif change.verb in ("starts", "tightens") and change.member in soiled:
                item = graph.nodes[change.member].item
                oiled = soiled.pop(change.member)
                for member in graph.members(item):
                    soiled.pop(member, None)
                yield case.finding(
                    oiled.step, ("applies", oiled.at),
                    f"{oiled.with_} on {case.named([oiled.member])} comes onto the clean thread of {item}, which is"
                    " locked later",
                    "clean the thread behind this step, or grease before the thread is cleaned",
                    (f"{item} is done up at {case.line(index, change.verb, change.at, oiled.step)}",),
                )  # fmt: skip
