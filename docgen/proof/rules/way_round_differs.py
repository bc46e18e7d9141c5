"""A part has a right way round on every other engine type that has it, and none on this one."""

from docgen.proof.case import Findings, Typed

LEVEL = "note"


def on_model(typed: Typed) -> Findings:
    """One finding at the part: same name, same kind of shape, on a type with an orientation."""
    for group in ("parts", "fasteners"):
        for name, item in getattr(typed.model.value, group).items():
            if item.orientation is not None or item.shape is None:
                continue
            twins = [
                (other.value.model, twin.orientation)
                for other in typed.others
                if (twin := getattr(other.value, group).get(name)) and twin.shape and twin.shape.kind == item.shape.kind
            ]
            if twins and all(orientation for _, orientation in twins):
                model, way = twins[0]
                yield typed.finding((group, name),
                                    f"{name} has a right way round on {', '.join(m for m, _ in twins)}, and none here",
                                    f"on {model} it is: {way.face} towards {way.towards}" if way else "", key=True)
