"""docgen: printed workshop documents for race engines.

>>> from docgen import Club
>>> club = Club.open("your/club")                              # doctest: +SKIP
>>> club.engine("017").sheets("CLU").write("out/")             # doctest: +SKIP
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from docgen.club.folder import Faulty
    from docgen.club.problem import Problem
    from docgen.desk.asking import Unwritten
    from docgen.desk.choosing import Unclear, Unprinted
    from docgen.desk.club import Club, Engine, Sheets
    from docgen.desk.jobsheets import Sheet
    from docgen.desk.pages import Laid
    from docgen.plan.due import DueLine
    from docgen.returns.diagnostic import Refused
    from docgen.returns.filing import Filed

__all__ = ["Club", "DueLine", "Engine", "Faulty", "Filed", "Laid", "Problem", "Refused", "Sheet", "Sheets", "Unclear",
           "Unprinted", "Unwritten"]  # fmt: skip
_ELSEWHERE = {
    "DueLine": "plan.due", "Faulty": "club.folder", "Filed": "returns.filing", "Laid": "desk.pages",
    "Problem": "club.problem", "Refused": "returns.diagnostic", "Sheet": "desk.jobsheets", "Unclear": "desk.choosing",
    "Unprinted": "desk.choosing", "Unwritten": "desk.asking",
}  # fmt: skip


def __getattr__(name: str) -> Any:
    """A public name, read when it is first used: a command that prints nothing loads no press."""
    if name not in __all__:
        raise AttributeError(f"module docgen has no {name}")
    return getattr(import_module(f"docgen.{_ELSEWHERE.get(name, 'desk.club')}"), name)
