"""A fastener's threadlocker and what the model says of its thread do not go together."""

from docgen.proof.case import Findings, Typed


def on_model(typed: Typed) -> Findings:
    """One finding at the fastener's locker, or at a lubrication that names threadlocker without saying which."""
    register = typed.club.value.materials
    for name, fastener in typed.model.value.fasteners.items():
        place = ("fasteners", name)
        if fastener.lubrication == "threadlocker" and not fastener.locker:
            yield typed.finding((*place, "lubrication"), f"{name} gets threadlocker, but nothing says which",
                                "name it, as in  locker: threadlocker-medium")  # fmt: skip
        if fastener.locker is None or fastener.locker not in register:
            continue
        material = register[fastener.locker]
        if material.kind != "threadlocker":
            yield typed.finding((*place, "locker"), f"{name} is locked with {fastener.locker}, which is"
                                f" no threadlocker: its kind is {material.kind}", "name a threadlocker")  # fmt: skip
        elif fastener.lubrication != "threadlocker":
            yield typed.finding((*place, "locker"), f"{name} gets {fastener.locker}, but its thread is said to be"
                                f" {fastener.lubrication}", "write  lubrication: threadlocker")  # fmt: skip
        elif material.cures is None:
            yield typed.finding((*place, "locker"), f"{name} gets {fastener.locker}, and nothing says how long that"
                                " cures", "give the material its  cures: {handling: ..., full: ...}")  # fmt: skip
