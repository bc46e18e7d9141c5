"""A step that handles nothing of this engine type names what only another type has: it was meant for that one."""

from functools import lru_cache

from docgen.club.catalogue import ENGLISH
from docgen.club.schema.model import Model
from docgen.proof.case import Case, Findings
from docgen.proof.naming import listed_words, spoken_name
from docgen.proof.texts import Text


def on_text(text: Text) -> Findings:
    """One finding at the text: all that such a step names are materials, tools and words, and nothing else can tell.

    What a step does to a part or a reading speaks for itself.
    """
    step, own = text.steps[0], text.case.model.value
    handles = any(True for verb in step.verbs if verb.handles for _ in verb.names(step))
    if not text.is_step or text.language != ENGLISH or handles:
        return
    known = {word for name in _names(own).values() for word in name}
    said = listed_words(text.text, ENGLISH)
    for name, (words, having) in _elsewhere(text.case).items():
        if name in step.applies or (_says(said, words) and not set(words) <= known):
            yield text.finding(f"{own.model} has no {name}, and the step is done on it too", _hint(text.case, having))
            return


def _names(model: Model) -> dict[str, tuple[str, ...]]:
    """The words of each part and fastener, in order."""
    items = {**model.parts, **model.fasteners}
    return {key: words for key, item in items.items()
            if (words := listed_words(spoken_name(item.name, key, ENGLISH), ENGLISH))}  # fmt: skip


@lru_cache(maxsize=1)
def _elsewhere(case: Case) -> dict[str, tuple[tuple[str, ...], list[Model]]]:
    """What other types have and this one has not, with its words and the types: parts, fasteners, what is filled in."""
    own = case.model.value
    mine = {*own.parts, *own.fasteners, *_filled(own)}
    found: dict[str, tuple[tuple[str, ...], list[Model]]] = {}
    for other in case.others:
        for name, words in {**_names(other), **dict.fromkeys(_filled(other), ())}.items():
            if name not in mine:
                found.setdefault(name, (words, []))[1].append(other)
    return found


def _filled(model: Model) -> set[str]:
    return {material for fluid in model.fluids.values() for material in fluid.materials}


def _says(said: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Whether the words of a name stand in a text one behind the other."""
    return bool(name) and any(said[at : at + len(name)] == name for at in range(len(said)))


def _hint(case: Case, having: list[Model]) -> str:
    """The equipment that those types have and no other does, if there is one."""
    without = [model for model in (case.model.value, *case.others) if model not in having]
    only = set.intersection(*(set(model.equipment) for model in having)) - {e for m in without for e in m.equipment}
    return f"write  only_with: [{min(only)}]" if only else "write  only_with:  with what it needs"
