"""`python3 tests faults`: break things, with a seed, and tell what came of it. Long; never in CI."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from tests.faults.tried import Tried

SEED: Final = 20261126
KINDS: Final = ("kills", "disks", "workers", "clocks")
_ROOT: Final = Path(__file__).resolve().parents[2]


def main(arguments: Sequence[str]) -> int:
    """Break things and print a line for each; return 1 if anything was lost, broken or unsaid."""
    parser = argparse.ArgumentParser(prog="python3 tests faults", description=__doc__)
    parser.add_argument(
        "kinds", nargs="*", default=KINDS, help=f"of {', '.join(KINDS)}; all if none is named"
    )
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--kills", type=int, default=500, help="at random moments, over all that is written")
    asked = parser.parse_args(arguments)
    if unknown := [kind for kind in asked.kinds if kind not in KINDS]:
        parser.error(f"there is no kind of fault {unknown[0]!r}: name some of {', '.join(KINDS)}")
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    os.chdir(_ROOT)
    sys.stdout.write("| fault | where | times | came of it | said |\n|---|---|---|---|---|\n")
    wrong = 0
    for kind in asked.kinds:
        if kind == "disks":
            # in a process of its own: it gives up leave that nothing gives back
            wrong += subprocess.run([sys.executable, "-m", "tests.faults.disks"], check=False).returncode
            continue
        for one in _of_kind(kind, asked.seed, asked.kills):
            sys.stdout.write(f"{one.row}\n")
            sys.stdout.flush()
            wrong += len(one.wrong)
    return 1 if wrong else 0


def _of_kind(kind: str, seed: int, kills: int) -> Iterator[Tried]:
    # late: a forked child should carry as little as can be
    if kind == "kills":
        from tests.faults.kills import killed

        return killed(seed, kills)
    if kind == "workers":
        from tests.faults.workers import tried as workers

        return workers()
    from tests.faults.clocks import tried as clocks

    return clocks(seed)
