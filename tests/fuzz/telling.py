"""What a trial came to, kept beside what it found, and its table."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Final

_NAME: Final = "tallies.json"


@dataclass
class Tally:
    """What came of the cases of one kind."""

    kind: str
    seed: int
    cases: int = 0
    read: int = 0
    refused: int = 0
    seconds: float = 0.0
    """By the clock, starting processes included."""
    cpu_s: float = 0.0
    lines: int = 0
    """Of the program's own that were reached."""
    faults: dict[str, int] = field(default_factory=dict)

    @property
    def found(self) -> int:
        """Return how many different faults there were."""
        return len(self.faults)

    def add(self, fault: str) -> None:
        """Count a fault."""
        self.faults[fault] = self.faults.get(fault, 0) + 1


def read_tallies(folder: Path, seed: int) -> dict[str, Tally]:
    """Return what is known by kind."""
    path = folder / _NAME
    if not path.exists():
        return {}
    known = [Tally(**one) for one in json.loads(path.read_text(encoding="utf-8"))]
    return {one.kind: one for one in known if one.seed == seed}


def write_tally(folder: Path, tally: Tally) -> None:
    """Keep what came of one kind."""
    path = folder / _NAME
    known = json.loads(path.read_text(encoding="utf-8")) if path.exists() else []
    others = [one for one in known if (one["kind"], one["seed"]) != (tally.kind, tally.seed)]
    path.write_text(json.dumps([*others, asdict(tally)], indent=1), encoding="utf-8")


def table(tallies: Iterable[Tally]) -> str:
    """Return the table."""
    rows = [
        "| kind | cases | read | refused | different faults | lines reached | processor |",
        "|---|---|---|---|---|---|---|",
    ]
    known = list(tallies)
    rows += [
        f"| {t.kind} | {t.cases} | {t.read} | {t.refused} | {t.found} | {t.lines} | {t.cpu_s:.0f} s |"
        for t in known
    ]
    cases, read, refused = (sum(getattr(t, one) for t in known) for one in ("cases", "read", "refused"))
    whole = f"| all | {cases} | {read} | {refused} |"
    rows.append(f"{whole} {sum(t.found for t in known)} | | {sum(t.cpu_s for t in known):.0f} s |")
    faults = [
        f"- {t.kind}: {fault}, {count} times" for t in known for fault, count in sorted(t.faults.items())
    ]
    return "\n".join([*rows, "", *faults]) + "\n"
