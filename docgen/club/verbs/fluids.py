"""``drains`` and ``fills``: what is let out of the engine and filled in again (docgen.job.fluids)."""

from typing import Annotated

from docgen.club.bench.faults import FaultRule
from docgen.club.schema.base import Names
from docgen.club.verbs.verb import Verb

Drains = Annotated[Names, Verb(
    "drains", "Fluids of the model that are let out here.", defined="fluids", handles=True, stands=False,
    faults={
        "fluid-out-already": FaultRule(
            "fluid-as-it-was",
            "A fluid is filled in though it was never let out, or is let out though it is out already.",
            lambda f: f"{f.fault.what} is let out here, and it is out already", lambda f: "take one of the two away",
            also=lambda f: f"{f.fault.what} was let out at {f.since}" if f.since else "",
        ),
        "fluid-runs-out": FaultRule(
            "fluid-runs-out",
            "What holds a fluid in comes off while it is full, and the step lets nothing out: it runs over bench and"
            " hands.",
            lambda f: f"{f.fault.what} runs out as {f.about} comes off: it was not let out before",
            lambda f: f"write  drains: [{f.fault.what}]  in this step or the next, or let it out before",
        ),
        "fluid-left-out": FaultRule(
            "left-empty", "A fluid is let out and never filled in again.",
            lambda f: f"{f.fault.what} is let out here and never filled in again",
            lambda f: f"add a step behind with  fills: [{f.fault.what}]",
        ),
        "fluid-not-there": FaultRule(
            "run-dry", "The engine runs without its oil, its water or its fuel: it was let out and not filled in.",
            lambda f: f"the engine runs here without {f.fault.what}",
            lambda f: f"add a step before with  fills: [{f.fault.what}]",
            also=lambda f: f"{f.fault.what} was let out at {f.since}" if f.since else "",
        ),
    },
)]  # fmt: skip
Fills = Annotated[Names, Verb(
    "fills", "Fluids of the model that are filled in here; how much of what follows from the model.",
    defined="fluids", handles=True, stands=False,
    faults={
        "fluid-in-already": FaultRule(
            "fluid-as-it-was", "",
            lambda f: f"{f.fault.what} is filled in here, and it is full already",
            lambda f: "let it out before, or fill it once; a drop to top it up is  applies:",
            also=lambda f: f"{f.fault.what} was filled in at {f.since}" if f.since else "",
        ),
        "fluid-open": FaultRule(
            "filled-open", "A fluid is filled in while its drain is still open.",
            lambda f: f"{f.fault.what} is filled in here, and {f.others} {f.are} still open",
            lambda f: "close and tighten it before",
        ),
        "fluid-shut": FaultRule(
            "no-way-for-fluid", "A fluid is let out, or filled in, while nothing is open that it could go through.",
            lambda f: f"{f.fault.what} {'comes out' if f.fault.verb == 'drains' else 'goes in'} here, but "
                      f"{f.about.replace(' and ', ' or ')} must be open for it",
            lambda f: f"add a step before with  undoes: [{f.fault.members[0]}]",
        ),
    },
)]  # fmt: skip
