"""The README's table of published and computed values, from a run: `python3 tests table`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from app.set_up import ROOT
from tests.spoil import run_for_report


def print_table(arguments: Sequence[str] = (), root: Path = ROOT) -> int:
    """Run the reference tests and print the table in Markdown; if a test fails print none and return 1.

    `--worst` prints one row for each source: the comparison that lies furthest off, and how many there are.
    """
    worst = "--worst" in arguments
    report = run_for_report(["-m", "reference", *[a for a in arguments if a != "--worst"]], root)
    wrong = [test for test, outcome in report["outcomes"].items() if outcome in {"failed", "broken"}]
    if wrong:
        sys.stderr.write(
            "No table while these reference tests fail:\n" + "".join(f"  {test}\n" for test in wrong)
        )
        return 1
    rows = worst_rows(report["comparisons"]) if worst else table_rows(report["comparisons"])
    print("\n".join(rows))
    return 0


def worst_rows(comparisons: Sequence[dict[str, Any]]) -> list[str]:
    """Return the lines of the short table: of each source how many comparisons, and the one furthest off."""
    by_source: dict[str, list[dict[str, Any]]] = {}
    for one in comparisons:
        by_source.setdefault(str(one["source"]), []).append(one)
    rows = [
        "| source | comparisons | furthest off | published | computed | difference |",
        "|---|---|---|---|---|---|",
    ]
    for source, found in sorted(by_source.items()):
        furthest = max(found, key=lambda one: abs(one["difference"] or 0.0))
        difference = "within" if furthest["difference"] is None else f"{100 * furthest['difference']:+.2f} %"
        cells = [
            source,
            len(found),
            furthest["name"],
            furthest["published"],
            f"{furthest['computed']:.5g}",
            difference,
        ]
        rows.append("| " + " | ".join(str(cell).replace("|", "\\|") for cell in cells) + " |")
    return rows


def table_rows(comparisons: Sequence[dict[str, Any]]) -> list[str]:
    """Return the lines of the table, sources by name, the comparisons of each in the order they ran."""
    rows = ["| source | quantity | published | computed | difference |", "|---|---|---|---|---|"]
    for one in sorted(comparisons, key=lambda comparison: str(comparison["source"])):
        difference = "within" if one["difference"] is None else f"{100 * one['difference']:+.2f} %"
        cells = [one["source"], one["name"], one["published"], f"{one['computed']:.5g}", difference]
        rows.append("| " + " | ".join(str(cell).replace("|", "\\|") for cell in cells) + " |")
    return rows
