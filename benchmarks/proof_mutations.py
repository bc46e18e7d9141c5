"""How much of what would go wrong does proofing find? Every shipped procedure and model, mutated systematically.

Usage: python benchmarks/proof_mutations.py [--survivors] [CLUB]

The classes are those of `benchmarks/mutation/oracle.py`. A mutant counts as caught when reading or any rule says
anything, a note included; the rule on changed revisions is left out, for it would catch everything. The last line gives
the share of the harmful that is caught, and of the harmless that is flagged.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path

from benchmarks.mutation.models import model_mutants
from benchmarks.mutation.mutant import Mutant, says, told
from benchmarks.mutation.procedures import Mutator
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.proof import proof_all

ROOT = Path(__file__).resolve().parents[1]


def mutants(folder: Folder) -> Iterator[Mutant]:
    """Every mutant of every procedure, sequence and model."""
    for name in sorted(folder.procedures):
        yield from Mutator(folder, "procedures", name).mutants()
    for name in sorted(folder.sequences):
        yield from Mutator(folder, "sequences", name).mutants()
    for name in sorted(folder.models):
        yield from model_mutants(folder, name)


def main(arguments: list[str]) -> int:
    """Run, and print the table, the survivors and the last line."""
    where = [a for a in arguments if not a.startswith("-")]
    folder = read_club(Path(where[0]) if where else ROOT)
    at_rest = [*folder.problems, *proof_all(folder)]
    if any(problem.level == "error" for problem in at_rest):
        print("\n".join(map(str, at_rest)))
        print("The club itself does not proof clean: mend that first.")
        return 1
    known = told(at_rest)
    counts: dict[tuple[str, str], Counter[bool]] = defaultdict(Counter)
    missed: list[Mutant] = []
    rules: Counter[str] = Counter()
    for mutant in mutants(folder):
        found = says(folder, mutant, known)
        counts[mutant.verdict, mutant.operator][bool(found)] += 1
        rules.update(found if mutant.verdict == "harmful" else [])
        if bool(found) != (mutant.verdict == "harmful") and mutant.verdict != "untold":
            missed.append(mutant)
            if mutant.verdict == "harmless" or "--survivors" in arguments:
                said = f"flagged {', '.join(found)}" if found else "not caught"
                print(f"{mutant.verdict}, {said}: {mutant.operator}, {mutant.name}: {mutant.where} ({mutant.why})")
    _table(counts)
    _reasons(missed)
    print("Findings in harmful mutants: " + ", ".join(f"{rule} {n}" for rule, n in rules.most_common()))
    caught, harmful = _share(counts, "harmful")
    flagged, harmless = _share(counts, "harmless")
    noticed, untold = _share(counts, "untold")
    dropped = counts["untold", "drop a step"]
    both = 100 * (caught + dropped[True]) / (harmful + sum(dropped.values()))
    print(f"untold: {noticed} of {untold} flagged; with the {sum(dropped.values())} dropped checks and steps of mere "
          f"text counted as harmful: {both:.1f} % caught")  # fmt: skip
    print(f"harmful caught: {100 * caught / harmful:.1f} % of {harmful}; "
          f"harmless flagged: {100 * flagged / harmless:.1f} % of {harmless}")  # fmt: skip
    return 0


def _table(counts: dict[tuple[str, str], Counter[bool]]) -> None:
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


def _share(counts: dict[tuple[str, str], Counter[bool]], verdict: str) -> tuple[int, int]:
    mine = [count for (one, _), count in counts.items() if one == verdict]
    return sum(count[True] for count in mine), sum(sum(count.values()) for count in mine)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
