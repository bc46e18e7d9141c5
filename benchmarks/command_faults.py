"""Does every command tell the truth, and is nothing lost or doubled, whatever call into the system fails?

Each command that writes into a club is found by itself, and is carried out again and again in a small club: at each of
its calls that concern a file of the club it is killed, or the call fails with EIO or EACCES, or the disk is full
(ENOSPC) or write-protected (EROFS) from there on. Then the club is looked at, and the same command is given once more,
as a member would. The pages are pressed once and then taken from memory: pressing touches no file of the club but the
layouts that it keeps, which may be gone at any time.

The last line reads ``calls: N; commands: C; lost: 0; doubled: 0; half-written: 0; wrong exit: 0; left behind
unnamed: 0``; the exit code is 1 when it does not. Without a word a share of the cases is tried, as many as four minutes
allow, evenly over the commands; ``all`` tries every one, a name those of that command, a number no more than so many.
"""

from __future__ import annotations

import errno
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from click.testing import CliRunner

from benchmarks.faults import clubs
from benchmarks.faults.injecting import COUNT, KILL, Ended, built, compiler, run
from benchmarks.faults.judging import Verdict, events, half_written, lost, temporary, tree
from benchmarks.faults.recipes import DAY, Recipe, commands, recipes
from docgen.cli.frame import docgen
from docgen.press import workers

SHARE = 240.0
"""Seconds that a share may take."""
KINDS = {"kill": KILL, "EIO": errno.EIO, "EACCES": errno.EACCES, "ENOSPC": errno.ENOSPC, "EROFS": errno.EROFS}
HALF = "half-written"


@dataclass(frozen=True)
class Trial:
    """One command in its club: the club before, and how the command ends when nothing fails."""

    name: str
    words: tuple[str, ...]
    typed: str
    club: Path
    before: dict[str, bytes]
    after: dict[str, bytes]
    good: Ended


def main(words: list[str]) -> int:
    """Start again with the shim, which a process must have from its beginning."""
    if "LD_PRELOAD" in os.environ:
        return _main(words)
    if compiler() is None:
        print("there is no C compiler here: the calls cannot be made to fail")
        return 2
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "LD_PRELOAD": str(built(Path(folder))), "PYTHONHASHSEED": "0"}
        return subprocess.run([sys.executable, "-m", "benchmarks.command_faults", *words], env=env).returncode


def _main(words: list[str]) -> int:
    begun = time.monotonic()
    on_the_day()
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        most = next((int(word) for word in words if word.isdecimal()), 0)
        trials = list(_trials(place, [word for word in words if word != "all" and not word.isdecimal()]))
        cases = [list(_cases(trial)) for trial in trials]
        for own in cases:
            random.Random(len(own)).shuffle(own)
        verdict = Verdict()
        until = begun + (1e9 if words else SHARE)
        for number in range(max(map(len, cases), default=0)):
            for trial, own in zip(trials, cases, strict=True):
                if number < len(own) and time.monotonic() < until and not 0 < most <= verdict.calls:
                    _try(place, trial, *own[number], verdict)
    total = sum(map(len, cases))
    print(f"{verdict.calls} of {total} cases in {time.monotonic() - begun:.0f} s")
    for fault, examples in sorted(verdict.examples.items()):
        print(f"{fault}:", *(f"  {case}" for case in examples[:8]), sep="\n")
    print(verdict)
    return 1 if verdict.faults else 0


def _trials(place: Path, names: list[str]) -> Iterator[Trial]:
    """The commands that write into the club."""
    for number, (name, recipe) in enumerate(recipes()):
        if names and name not in names:
            continue
        club = clubs.fresh(place / f"base-{number}" / "club")
        which = recipe.before(club)
        before = tree(club)
        work = place / "work"
        words = tuple(word.replace("PLACE", str(work)).replace("WHICH", which) for word in recipe.words)
        _press_once(_copy(place, club), words, recipe)
        _copy(place, club)
        good = run(work, words, recipe.typed, error=COUNT)
        after = tree(work)
        shutil.rmtree(work)
        if good.raised:
            raise RuntimeError(f"{name} fails by itself: {good.raised}")
        if after != before:
            print(f"{name}: {good.calls} calls", flush=True)
            yield Trial(name, words, recipe.typed, club, before, after, good)


def _copy(place: Path, club: Path) -> Path:
    """The club at the place where all are tried: what is written names its folder now and then."""
    work = place / "work"
    shutil.rmtree(work, ignore_errors=True)
    shutil.copytree(club, work)
    return work


def _cases(trial: Trial) -> Iterator[tuple[str, int]]:
    for kind in KINDS:
        yield from ((kind, at) for at in range(trial.good.calls))


def _try(place: Path, trial: Trial, kind: str, at: int, verdict: Verdict) -> None:
    """One case. A call past the last one that can fail in this way fails nothing, and is not counted."""
    work = _copy(place, trial.club)
    ended = run(work, trial.words, trial.typed, at, KINDS[kind])
    if kind in ("ENOSPC", "EROFS") and ended.calls <= at:
        return
    verdict.calls += 1
    verdict.commands.add(trial.name)
    case = f"{trial.name}, {kind} at call {at}"
    now = tree(work)
    want, have, had = events(trial.after), events(now), events(trial.before)
    for path in lost(trial.before, now):
        verdict.found("lost", f"{case}: {path}")
    for path in half_written(now, trial.before, trial.after, pending=("to-put",)):
        verdict.found("half-written", f"{case}: {path}")
    if ended.raised:
        verdict.found("wrong exit", f"{case}: {ended.raised[-300:]}")
    elif ended.status == 0 and trial.good.status == 0 and have != want:
        verdict.found("wrong exit", f"{case}: 0, but the record is not as it should be: {ended.said[-200:]}")
    elif ended.status not in (0, 137) and have != had and HALF not in ended.said and not _said_filed(ended):
        verdict.found("wrong exit", f"{case}: {ended.status}, but something was filed: {ended.said[-200:]}")
    _again(trial, work, case, verdict)
    for path in temporary(tree(work)):
        if path not in _named(work, path):
            verdict.found("left behind unnamed", f"{case}: {path}")
    shutil.rmtree(work)


def _named(work: Path, path: str) -> str:
    """What docgen verify says of the club that a file lies in."""
    inner = next((way for way in (work / path).parents if (way / "club.yaml").is_file()), work)
    before = inner.relative_to(work).as_posix()
    said = run(inner, ("verify",), "").said
    return said if before == "." else said + (path if path.removeprefix(f"{before}/") in said else "")


def _said_filed(ended: Ended) -> bool:
    """A command of several events, or that goes on afterwards, says of each what became of it."""
    return "Filed: " in ended.said


def _again(trial: Trial, work: Path, case: str, verdict: Verdict) -> None:
    """The same command once more, and what was cut off is finished: then all is there, once."""
    run(work, ("move", "--finish"), "")
    run(work, trial.words, trial.typed)
    now = tree(work)
    have, want = events(now), events(trial.after)
    for path in half_written(now, trial.before, trial.after):
        verdict.found("half-written", f"{case}, once more: {path}")
    for said, count in (have - want).items():
        verdict.found("doubled", f"{case}: {count} x {said!r:.120}")
    for said, count in (want - have).items():
        verdict.found("lost", f"{case}, once more: {count} x {said!r:.120}")


def on_the_day() -> None:
    """Let the clock say the day of the trials, wherever a command looks at it."""
    list(commands())  # loads every one
    for name, module in list(sys.modules.items()):
        if name.startswith(("docgen.cli", "docgen.desk")) and hasattr(module, "today"):
            vars(module)["today"] = lambda: DAY
    vars(workers)["press"] = _from_memory
    for module_name in ("docgen.press.orders", "docgen.sheets.leaf", "docgen.sheets.signoff"):
        import_module(module_name)


_PRESSED: dict[str, workers.Outcome] = {}
_REAL = workers.press


def _from_memory(order: workers.Order, shelf: object = None) -> workers.Outcome:
    key = f"{order.key} {hash((order.html, order.css, order.title, order.identifier, order.created, str(order.body)))}"
    if key not in _PRESSED:
        _PRESSED[key] = _REAL(order)
    return _PRESSED[key]


def _press_once(work: Path, words: tuple[str, ...], recipe: Recipe) -> None:
    """Press the pages of a command here, once, and let its trials take them from memory."""
    if words[0] in ("print", "binder", "card", "board", "kit", "labels", "reading", "safety"):
        CliRunner().invoke(docgen, ["--club", str(work), *words], input=recipe.typed, prog_name="docgen")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
