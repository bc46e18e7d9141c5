"""What goes wrong as parts and fasteners come off and go on: by its kind, how it is told."""

from collections.abc import Mapping

from docgen.club.bench.faults import FaultRule, Words, parted


def _closing(f: Words) -> str:
    """What was forgotten is to be put on; what comes on later only comes too late."""
    closing = ("fits", "renews", "tightens")
    later = {c.member for c in f.changes if c.step > f.fault.step and c.verb in closing}
    never = [m for m in f.fault.others if m not in later]
    if not never:
        return "do it after the last fastener is tight"
    verb = "fits" if f.graph.nodes[never[0]].is_part else "tightens"
    return f"add a step before with  {verb}: [{f.listed(never)}]"


def _in_front(f: Words) -> str:
    if f.fault.verb not in ("undoes", "removes"):
        return f"do this before {f.others} {'go' if f.are == 'are' else 'goes'} on"
    parts, fasteners = parted(f.graph, f.fault.others)
    undone = [f"undo {f.named(fasteners)}"] if fasteners else []
    return "first " + " and ".join([*undone, *([f"take {f.named(parts)} off"] if parts else [])])


def _never_off(f: Words) -> str:
    met = {change.member for change in f.fault.past}
    never = [m for m in f.fault.others if m not in met] if f.fault.verb in ("undoes", "removes") else []
    return f"{f.named(never)} did not come off before" if never else ""


FAULTS: Mapping[str, FaultRule] = {
    "already-off": FaultRule(
        "taken-off-twice", "Something is undone or taken off that is off already.",
        lambda f: f"{f.about} cannot be {f.done} here: off already",
        lambda f: "take this out, or put it back on before",
    ),
    "already-on": FaultRule(
        "fitted-though-on", "A part is fitted or renewed that never came off.",
        lambda f: f"{f.about} cannot be {f.done} here: on the engine already",
        lambda f: f"add a step before with  {'removes' if f.part or f.fault.verb == 'fits' else 'undoes'}: "
                  f"[{f.listed(f.fault.members)}]",
        also=lambda f: "" if f.known else f"{f.about} did not come off before",
    ),
    "already-tight": FaultRule(
        "tightened-twice", "A fastener is started or tightened that is tight already.",
        lambda f: f"{f.about} cannot be {f.done} here: done up already",
        lambda f: "undo it before, or write  again: true  where a tight one is gone over once more",
        also=lambda f: "" if f.known else f"{f.about} was never undone",
    ),
    "already-new": FaultRule(
        "renewed-twice", "A new part is taken twice.",
        lambda f: f"{f.about}: a new one was taken before", lambda f: "take one of the two out",
    ),
    "not-yet-tight": FaultRule(
        "gone-over-though-loose", "A fastener is gone over again that was not tightened before.",
        lambda f: f"{f.about}: tightened again here, but not tight before",
        lambda f: f"add a step before with  tightens: [{f.about}], or take  again: true  away",
    ),
    "covered": FaultRule(
        "something-in-front", "Something is moved, undone or done up while a thing in front of it is still on.",
        lambda f: f"{f.subject} cannot be {f.done}: {f.others} {f.are} still on in front", _in_front, also=_never_off,
    ),
    "bench-only": FaultRule(
        "bench-only", "Something is reached for that can only be got at while what it sits in is off the engine.",
        lambda f: f"{f.subject} cannot be {f.done}: {f.others} is on the engine",
        lambda f: f"take {f.others} off first: this is reached on the bench only",
        "others", lambda f: "" if f.known else f"{f.others} did not come off before",
    ),
    "held": FaultRule(
        "still-held", "A part comes off while fasteners still hold it.",
        lambda f: f"{f.subject} cannot come off: {f.others} still {'holds' if f.are == 'is' else 'hold'} it",
        lambda f: f"add a step before with  undoes: [{f.listed(f.fault.others)}]",
        also=lambda f: "" if f.known else f"{f.others} {'was' if f.are == 'is' else 'were'} not undone before",
    ),
    "closed-too-soon": FaultRule(
        "closed-too-soon", "Something goes on while a thing behind it is still off or not tight.",
        lambda f: f"{f.subject} cannot be {f.done} yet: behind it, {f.lacking}",
        lambda f: f"finish what lies behind {f.subject} first", "others",
    ),
    "incomplete": FaultRule(
        "closed-incomplete", "An assembly goes back on the engine while something inside it is off or not tight.",
        lambda f: f"{f.subject} goes on the engine, but {f.lacking} in it",
        lambda f: f"finish {f.subject} on the bench first: this cannot be reached on the engine", "others",
    ),
    "nothing-to-hold": FaultRule(
        "nothing-to-hold", "A fastener is done up while what it holds is off.",
        lambda f: f"{f.subject}: {f.done}, but {f.lacking}", lambda f: f"fit {f.others} first", "others",
    ),
    "not-all-started": FaultRule(
        "not-all-started", "One of a group is tightened before all of the group are started by hand.",
        lambda f: f"{f.group}: tightened before all of them are started by hand",
        lambda f: f"add a step before with  starts: [{f.group}]",
        also=lambda f: f"{f.about} not started" if f.about != f.group else "",
    ),
    "used-again": FaultRule(
        "single-use-refitted", "A used single-use part goes on again.",
        lambda f: f"{f.about} goes on again, but the model says that it serves once",
        lambda f: f"write  renews: [{f.listed(f.fault.members)}]  instead of {f.fault.verb}" if f.part else
                  f"add a step before with  renews: [{f.listed(f.fault.members)}]",
    ),
    "renewal-out-of-reach": FaultRule(
        "renewal-out-of-reach", "A failing check renews a part that cannot be got at any more.",
        lambda f: f"the failing check renews {f.about}, which is on the engine and stays on",
        lambda f: f"check while {f.about} is off, or let  calls:  name the job that renews it",
        also=lambda f: f"{f.others} in front of it or holding it" if f.fault.others else "",
    ),
    "run-unfinished": FaultRule(
        "run-unfinished", "The engine is started, or something is loaded, while it is not together.",
        lambda f: f"{'the engine runs' if f.fault.verb == 'runs' else 'this is loaded'} here, but {f.lacking}",
        _closing,
    ),
    "left-off": FaultRule(
        "part-left-off", "A part comes off and never goes on again.",
        lambda f: f"{f.about} comes off here and is never fitted again",
        lambda f: f"add a step that fits or renews {f.about}", "none",
    ),
    "left-undone": FaultRule(
        "fastener-left-undone", "A fastener is undone and never tightened again.",
        lambda f: f"{f.about}: {f.done} here and never tightened",
        lambda f: f"add a step with  tightens: [{f.about}]", "none",
    ),
}  # fmt: skip
