"""How much of what would go wrong does proofing find? Every shipped procedure and model, mutated systematically.

The classes are those of `benchmarks/mutation/oracle.py`, and of the operators on texts and figures. A mutant counts as
caught when reading or any rule says anything, a note included; the rule on changed revisions is left out, for it would
catch everything. What nobody could tell who has only the changed files stands apart, as untold. The last line gives the
share of the harmful that is caught, and of the harmless that is flagged.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path

from benchmarks.mutation.figures import figure_mutants
from benchmarks.mutation.models import model_mutants
from benchmarks.mutation.mutant import Kind, Mutant, says, told
from benchmarks.mutation.procedures import Mutator
from benchmarks.mutation.texts import text_mutants
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.proof import proof_all

ROOT = Path(__file__).resolve().parents[1]
CLUBS = (ROOT, ROOT / "tests" / "secondtrade" / "files")
"""The shipped club, and one of another trade."""
SHARE, SEED = 0.03, 7
Counts = dict[tuple[str, str], Counter[bool]]


def mutants(folder: Folder, lot: Callable[[], bool]) -> Iterator[Mutant]:
    """The mutants of every procedure, sequence and model that the lot falls on."""
    kinds: tuple[Kind, ...] = ("procedures", "sequences")
    for kind, name in ((one, name) for one in kinds for name in sorted(getattr(folder, one))):
        yield from Mutator(folder, kind, name, lot).mutants()
        yield from (one for one in text_mutants(folder, kind, name) if lot())
    for name in sorted(folder.models):
        yield from (one for one in (*model_mutants(folder, name), *figure_mutants(folder, name)) if lot())


def main(arguments: list[str]) -> int:
    """Run, and print the table, the survivors and the last line."""
    asked = _asked(arguments)
    began = time.process_time()
    counts: Counts = defaultdict(Counter)
    missed: list[Mutant] = []
    rules: Counter[str] = Counter()
    for where in asked.clubs or CLUBS:
        folder = read_club(Path(where))
        at_rest = [*folder.problems, *proof_all(folder)]
        if any(problem.level == "error" for problem in at_rest):
            print("\n".join(map(str, at_rest)))
            print(f"{where} itself does not proof clean: mend that first.")
            return 1
        share = 1.0 if folder.root != ROOT and not asked.clubs else asked.share
        _run(folder, share, asked, counts, missed, rules, told(at_rest))
    _table(counts)
    _reasons(missed)
    print("Findings in harmful mutants: " + ", ".join(f"{rule} {n}" for rule, n in rules.most_common()))
    weak = [f"{operator} {_percent(count)}" for (verdict, operator), count in sorted(counts.items())
            if verdict == "harmful" and count[True] < 0.85 * count.total()]  # fmt: skip
    print("Classes below 85 %: " + (", ".join(weak) or "none"))
    noticed, untold = _share(counts, "untold")
    print(f"untold: {noticed} of {untold} flagged; they count neither as caught nor as missed")
    caught, harmful = _share(counts, "harmful")
    flagged, harmless = _share(counts, "harmless")
    print(f"share {asked.share:g}, seed {asked.seed}, {time.process_time() - began:.0f} s of one core: "
          f"harmful caught: {100 * caught / harmful:.1f} % of {harmful}; "
          f"harmless flagged: {100 * flagged / harmless:.1f} % of {harmless}")  # fmt: skip
    return 0


def _asked(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m benchmarks.proof_mutations", description=__doc__.split("\n")[0])
    parser.add_argument("clubs", nargs="*", metavar="CLUB", help="club folders (default: ours and the gardeners')")
    parser.add_argument("--share", type=float, default=SHARE, help="share of the mutants, by lot (default %(default)s;"
                        " the gardeners' small club is done whole)")  # fmt: skip
    parser.add_argument("--seed", type=int, default=SEED, help="another seed, another lot (default %(default)s)")
    parser.add_argument("--survivors", action="store_true", help="name every harmful mutant that is not caught")
    return parser.parse_args(arguments)


def _run(
    folder: Folder, share: float, asked: argparse.Namespace, counts: Counts, missed: list[Mutant], rules: Counter[str],
    known: frozenset[tuple[str, str, str]],
) -> None:  # fmt: skip
    drawn = random.Random(asked.seed)
    for mutant in mutants(folder, lambda: drawn.random() < share):
        found = says(folder, mutant, known)
        counts[mutant.verdict, mutant.operator][bool(found)] += 1
        rules.update(found if mutant.verdict == "harmful" else [])
        if bool(found) != (mutant.verdict == "harmful") and mutant.verdict != "untold":
            missed.append(mutant)
            if mutant.verdict == "harmless" or asked.survivors:
                said = f"flagged {', '.join(found)}" if found else "not caught"
                print(f"{mutant.verdict}, {said}: {mutant.operator}, {mutant.name}: {mutant.where} ({mutant.why})")


def _percent(count: Counter[bool]) -> str:
    return f"{100 * count[True] / count.total():.0f} % of {count.total()}"


def _table(counts: Counts) -> None:
    for verdict in ("harmful", "untold", "harmless"):
        print(f"\n{verdict:40} flagged    of")
        for (one, operator), count in sorted(counts.items()):
            if one == verdict:
                print(f"  {operator:38} {count[True]:6} {sum(count.values()):6}")
    print()


def _reasons(missed: list[Mutant]) -> None:
    survivors = Counter((m.operator, m.why.split(":")[0]) for m in missed if m.verdict == "harmful")
    print("Harmful mutants that survive, by operator and reason:")
    for (operator, why), number in survivors.most_common():
        print(f"  {number:4} {operator}: {why}")


def _share(counts: Counts, verdict: str) -> tuple[int, int]:
    mine = [count for (one, _), count in counts.items() if one == verdict]
    return sum(count[True] for count in mine), sum(sum(count.values()) for count in mine)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
