"""Coverage-guided fuzzing of the readers of strangers' files: ``python tests/fuzz/fuzz.py TARGET --minutes N``.

Needs atheris (libFuzzer for Python), which is no part of this project's setup: install it beside, in an environment of
its own that sees this one's packages, as docs/security.md says. Everything that is found lands in out/fuzz/TARGET/;
what made a reader fail becomes a line in tests/fuzz/found.py.
"""

from __future__ import annotations

import argparse
import sys
from importlib import import_module
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MEMORY_MB, SECONDS_EACH = 2048, 20


def main() -> None:
    """Fuzz one reader for some minutes; libFuzzer prints its figures at the end."""
    parser = argparse.ArgumentParser(description="Fuzz one of the readers of strangers' files.")
    parser.add_argument("target", choices=("yaml", "parcel", "form", "number"))
    parser.add_argument("--minutes", type=float, default=5)
    wanted = parser.parse_args()
    sys.path.insert(0, str(ROOT))
    atheris = import_module("atheris")
    with atheris.instrument_imports(include=["docgen"]):
        from tests.fuzz.targets import TARGETS

    target = TARGETS[wanted.target]
    place = ROOT / "out" / "fuzz" / wanted.target
    place.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(target.seeds()):
        (place / f"seed-{number}").write_bytes(seed)
    limits = [f"-max_total_time={int(wanted.minutes * 60)}", f"-max_len={target.longest}", f"-timeout={SECONDS_EACH}",
              f"-rss_limit_mb={MEMORY_MB}", "-print_final_stats=1", f"-artifact_prefix={place}/failed-"]  # fmt: skip
    atheris.Setup([sys.argv[0], *limits, str(place)], target.reader)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
