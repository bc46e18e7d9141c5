"""What is asked for by name: engines, jobs, engine types. What is not there is answered with the close one."""

from collections.abc import Iterable, Sequence

from docgen.club.folder import EngineRecord, Faulty, Folder, Read
from docgen.club.problem import close_name
from docgen.club.schema.procedure import Procedure


class Unclear(LookupError):
    """What was asked for is not there, or makes no sense: in one sentence, with what to write instead."""


class Unprinted(Exception):
    """What does not fit its page, or has faults, is not printed, nor is what was asked for with it.

    faults : each with where to change what it quotes, where one of the club's files holds that
    hint   : what to do about it, where it is said once for all
    """

    def __init__(self, faults: Iterable[str], hint: str = "") -> None:
        self.faults, self.hint = tuple(faults), hint and f" {hint}"
        super().__init__("\n".join(self.faults))


def known(name: str, names: Iterable[str], what: str, *, where: str = "", listed: str = "") -> str:
    """The name, where it is among those known. Errors: Unclear, which names the close one.

    where  : the file that it would stand in, as `` in club.yaml``
    listed : what is said where none is close; without it, all that are known
    """
    there = sorted(names)
    if name in there:
        return name
    close = close_name(name, there)
    else_ = listed or f"known: {', '.join(there)}" * bool(there)
    hint = f'did you mean "{close}"?' if close else else_
    raise Unclear(f'there is no {what} "{name}"{where}' + (f"; {hint}" if hint else ""))


def engines_named(folder: Folder, numbers: Sequence[str]) -> list[EngineRecord]:
    """The engines of these numbers. Errors: Faulty for one that is there but faulty; Unclear."""
    for number in numbers:
        base = f"engines/{number}"
        found = [p for p in folder.problems if p.path == base or p.path.startswith(f"{base}/")]
        if found and number not in folder.engines:
            raise Faulty(found)
    there = {*folder.engines, *folder.unread}
    return [folder.engines[known(number, there, "engine")] for number in numbers]


def jobs_named(folder: Folder, names: Sequence[str]) -> list[Read[Procedure]]:
    """The procedures of these names or sheet codes. Errors: Faulty for one that is there but faulty; Unclear."""
    for name in names:
        found = [p for p in folder.problems if p.path == f"procedures/{name}.yaml"]
        if found and name not in folder.procedures:
            raise Faulty(found)
        if name.upper() not in folder.codes and name not in folder.procedures and not folder.whole("procedures"):
            raise Faulty(p for p in folder.problems if p.path in folder.broken and p.path.startswith("procedures/"))
    return [folder.procedures[known(folder.codes.get(n.upper(), n), folder.procedures, "job")] for n in names]


def fitting(folder: Folder, jobs: Sequence[Read[Procedure]], model: str) -> None:
    """See that jobs are for an engine type. Errors: Unclear, with the reason why one is not."""
    kind = folder.models[model].value
    for one in jobs:
        if why := folder.why_not(one.value.procedure, kind):
            raise Unclear(f"{one.value.procedure} is not for {kind.title}: {why}")


def sound(folder: Folder, number: str | None = None, jobs: Iterable[str] | None = (), *, but: str = "") -> None:
    """See that no file stands in the way of what is done for an engine, or for all. Errors: Faulty.

    jobs : the procedures that are needed, None for all
    but  : a kind of problem that does not stand in the way
    """
    wanted = None if jobs is None else list(jobs)
    if blocking := sorted(p for p in folder.blocking(number, wanted) if p.name != but):
        raise Faulty(blocking)
