"""``engines/NNN/engine.yaml``: one engine as it was received. What happened since is in its log."""

import re
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, model_validator

from docgen.club.schema.base import Day, Name, PartName, Strict, Text, Time, also, fault, of_form, one_of
from docgen.club.schema.refers import Refers

NUMBER = re.compile(r"[A-Z0-9]{1,6}")
_HINT = "write one to six capital letters and digits, as in 017: the number is part of every sheet's code"


def _number(value: Any) -> Any:
    if value == "BLANK":
        raise fault("bad-engine-number", "BLANK stands on the sheets of engines that have no number yet", _HINT)
    return value


EngineNumber = Annotated[
    str, BeforeValidator(_number), of_form(NUMBER, "bad-engine-number", "an engine number", _HINT, digits=True)
]


class Before(Strict):
    """When something was last done or renewed before the record began: the day, or the hours run from then until it
    began, or both. What is not said is not known, and stays so."""

    model_config = also(minProperties=1)

    on: Day | None = None
    ago: Time | None = None

    @model_validator(mode="after")
    def _something(self) -> Self:
        if self.on is None and self.ago is None:
            hint = "write on: the day, or ago: how long it has run since"
            raise fault("empty-value", "nothing is written here", hint)
        return self


class Engine(Strict):
    """The engine's identity and its state on the day the record began.

    Of one that ``came`` new everything counts from that day; of any other, what was done before is not known, except
    for the jobs, parts and fasteners that ``before`` tells of.
    """

    engine: EngineNumber
    model: Annotated[Name, Refers("model")]
    serial: Text | None = None
    keeper: Text
    received: Day
    came: Annotated[str, one_of("new", "used")] | None = None
    hours: Time | None = None
    seals: dict[PartName, Text] = Field(default_factory=dict)
    components: dict[PartName, Text] = Field(default_factory=dict)
    before: dict[Annotated[Name, Refers("job-part-or-fastener")], Before] = Field(default_factory=dict)
    note: Text | None = None
