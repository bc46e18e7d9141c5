"""Something is called by its plural and there is one of it, or by its singular and there are several."""

import re

from docgen.proof.case import Findings, Typed

ONE_BY_ONE = ("screw", "bolt", "nut", "stud", "clip", "spring", "washer", "hose", "circlip", "bearing", "seal", "ring")
"""Things that are counted: what ends so is one, what ends so with an s several."""
_LAST = re.compile(rf"(?:^|-)({'|'.join(ONE_BY_ONE)})(s?)$")


def on_model(typed: Typed) -> Findings:
    """One finding at the item, by the last word of its key."""
    model = typed.model.value
    for group, items in (("parts", model.parts), ("fasteners", model.fasteners)):
        for name, item in items.items():
            found = _LAST.search(name)
            if found and bool(found[2]) != (item.count > 1):
                at = (group, name, "count") if "count" in item.model_fields_set else (group, name)
                there = "one" if item.count == 1 else str(item.count)
                yield typed.finding(at, f"{name}: by its name there {'are several' if found[2] else 'is one'}, by its"
                                    f" count {there}", "write  count:  as many as there are, or name it otherwise",
                                    key=at[-1] == name)  # fmt: skip
