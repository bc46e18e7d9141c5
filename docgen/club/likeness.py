"""A new engine type from one that it is like: its parts and names as they are, its figures left blank.

What stands in the maker's manual of the one engine says nothing about the other: torques, limits, settings, lives and
part numbers are left out unless somebody says that they are the same. The names, what covers what, the ways round and
the sizes of threads and drives are taken over, apart from what is said to differ.
"""

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Any

from docgen.club.folder import Folder
from docgen.club.problem import did_you_mean
from docgen.club.schema.base import Strict
from docgen.club.schema.model import Fastener, Limit, Model, Part, Setting
from docgen.club.uses import applies, uses
from docgen.club.yamldoc import Data

SHAPES: dict[str, type[Strict]] = {"parts": Part, "fasteners": Fastener, "limits": Limit, "settings": Setting}
GROUPS = tuple(SHAPES)
ITEM_FIGURES = ("number", "life", "size", "torque", "angle", "stages", "seat", "source")
LIMIT_FIGURES = ("new", "allow", "source")
SETTING_FIGURES = ("start", "ceiling", "source")
CAUGHT = ("thread", "class", "drive", "torque", "angle", "by_feel", "locker", "lubrication", "boss", "insert", "stages",
          "holding_tool", "critical", "hand_only", "start_all_first", "pattern", "source", "onto")  # fmt: skip
"""What a fastener no longer says once it is a clip, a spring or a lead."""
_FIGURE_IN_TEXT = re.compile(r"\d ?(mm|bar|s|N\.m|degC|ml|rpm|l)\b")


Differing = Mapping[str, Mapping[str, Data]]
"""Of an item, limit or setting, the keys that say something else."""


class NoSuchName(ValueError):
    """A difference is stated of something that the engine type has not."""


def like(
    folder: Folder, model: str, equipment: Collection[str], differing: Differing, *, figures: bool
) -> dict[str, Data]:
    """The parts, fasteners, limits and settings of a new type with this equipment, as the file of `model` has them.

    differing : of an item, limit or setting, the keys that say something else than there
    figures   : whether the maker's figures and part numbers are the same
    What only work on equipment that the new type has not ever touches is left out. Errors: NoSuchName.
    """
    read = folder.models[model]
    assert isinstance(read.document.data, dict)
    left_out = _only_with_others(folder, read.value, equipment)
    made: dict[str, Any] = {}
    for group in GROUPS:
        held = read.document.data.get(group) or {}
        assert isinstance(held, dict)
        made[group] = {name: one for name, one in held.items() if name not in left_out}
    _without(made)
    if not figures:
        _blank(made, read.value)
    _differ(made, differing)
    return {group: entries for group, entries in made.items() if entries}


def _only_with_others(folder: Folder, model: Model, equipment: Collection[str]) -> set[str]:
    """The names that the jobs use on the type as it is, and on one with this equipment no longer."""
    after = model.model_copy(update={"equipment": tuple(equipment)})
    return _used(folder, model) - _used(folder, after)


def _used(folder: Folder, model: Model) -> set[str]:
    jobs = (read for read in folder.procedures.values() if applies(read.value, model))
    return {use.name.partition("/")[0] for read in jobs for use in uses(folder, read, model)}


def _without(made: dict[str, Any]) -> None:
    """Take what is part of, or derived from, something left out away too, and every mention of it."""
    while True:
        there = {name for group in GROUPS for name in made[group]}
        gone = [(g, n) for g in GROUPS for n, one in made[g].items() if _hangs_on_missing(one, there)]
        if not gone:
            break
        for group, name in gone:
            del made[group][name]
    for group in ("parts", "fasteners"):
        made[group] = {name: _mentioning(one, there) for name, one in made[group].items()}
    made["limits"] = {name: _mentioning(one, there) for name, one in made["limits"].items()}


def _hangs_on_missing(one: Mapping[str, Any], there: Collection[str]) -> bool:
    sources = [name for names in (one.get("from") or {}).values() for name in _listed(names)]
    whole = [one["part_of"]] if "part_of" in one else []
    return any(name not in there for name in (*sources, *whole))


def _mentioning(one: Mapping[str, Any], there: Collection[str]) -> dict[str, Any]:
    """An entry whose lists name only what is there; one left empty goes."""
    found: dict[str, Any] = {}
    for key, value in one.items():
        if key in ("behind", "held_by", "of"):
            value = [name for name in _listed(value) if name.partition("/")[0] in there]
            if not value:
                continue
        if key == "orientation" and isinstance(value, dict) and value.get("clears", "") not in {"", *there}:
            value = {each: text for each, text in value.items() if each != "clears"}
        if key not in ("onto",) or value in there:
            found[key] = value
    return found


def _blank(made: dict[str, Any], model: Model) -> None:
    for name, one in made["parts"].items():
        made["parts"][name] = _less(one, ITEM_FIGURES)
    for name, one in made["fasteners"].items():
        made["fasteners"][name] = _less(one, ITEM_FIGURES)
        if {"torque", "angle"} & one.keys() and "by_feel" not in one:
            made["fasteners"][name]["critical"] = "true"
    for name, one in made["limits"].items():
        band = model.limits[name].allow or model.limits[name].new
        unit = {"unit": band.unit} if band else {}
        made["limits"][name] = {**_less(one, (*LIMIT_FIGURES, "fail")), **unit}
    for name, one in made["settings"].items():
        made["settings"][name] = _less(one, SETTING_FIGURES)


def _less(one: Mapping[str, Any], keys: Iterable[str]) -> dict[str, Any]:
    """An entry without these keys, and without words that hold a figure with its unit."""
    return {
        key: value
        for key, value in one.items()
        if key not in keys and not (key in ("name", "where", "datum") and _FIGURE_IN_TEXT.search(str(value)))
    }


def _differ(made: dict[str, Any], differing: Differing) -> None:
    for name, changes in differing.items():
        group = next((g for g in GROUPS if name in made[g]), None)
        if group is None:
            known = [each for g in GROUPS for each in made[g]]
            raise NoSuchName(f'there is no part, fastener, limit or setting "{name}"; {did_you_mean(name, known)}')
        _known_keys(group, name, changes)
        before = made[group][name]
        if "catch" in changes:
            before = {key: value for key, value in before.items() if key not in CAUGHT}
        if {"torque", "by_feel"} & changes.keys() and before.get("critical") == "true":
            before = {"source": "maker", **before}
        made[group][name] = {**before, **changes}


def _known_keys(group: str, name: str, changes: Mapping[str, Data]) -> None:
    known = {field.alias or key for key, field in SHAPES[group].model_fields.items()}
    for key in changes:
        if key not in known:
            raise NoSuchName(f'{name} has no "{key}"; {did_you_mean(key, known) or ", ".join(sorted(known))}')


def _listed(value: Any) -> list[str]:
    return [value] if isinstance(value, str) else list(value)
