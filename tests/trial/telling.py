"""What the trial says: as a table in Markdown and as a plot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from tests.trial.answers import OneCheck, Outcome

GOAL = 0.99
"""Share of the bands that should hold the finest answer."""
ORDER = ("pass", "marginal", "no verdict", "fail")


def family_of(check: OneCheck) -> str:
    """Return a check's name without its plate."""
    return check.name.split(",")[0]


def missed(outcomes: Sequence[Outcome]) -> list[tuple[Outcome, OneCheck]]:
    """Return every check whose upper end lies below the finest demand, furthest off first."""
    found = [(o, c) for o in outcomes for c in o.checks if not c.held_above]
    return sorted(found, key=lambda pair: pair[1].band - pair[1].off)


def turned(outcomes: Sequence[Outcome]) -> list[Outcome]:
    """Return the brackets that pass for the user and fail on the finest mesh."""
    return [o for o in outcomes if o.verdict == "pass" and o.finer_verdicts[-1] == "fail"]


def table(outcomes: Sequence[Outcome]) -> list[str]:
    """Return the lines of the trial's report."""
    checks = [c for o in outcomes for c in o.checks]
    lines = [
        f"{len(outcomes)} brackets, {len(checks)} checks: the band holds the finest answer in"
        f" {_share(c.held for c in checks)}, its upper end lies above it in"
        f" {_share(c.held_above for c in checks)} (goal {GOAL:.0%}).",
        "",
        "| check | compared | held | upper end held | median band | median change | worst over the band |",
        "|---|---|---|---|---|---|---|",
    ]
    for name in sorted({family_of(c) for c in checks}):
        own = [c for c in checks if family_of(c) == name]
        worst = max((c.off - c.band for c in own), default=0.0)
        cells = [
            name,
            len(own),
            _share(c.held for c in own),
            _share(c.held_above for c in own),
            f"{np.median([c.band for c in own]):.1%}",
            f"{np.median([abs(c.off) for c in own]):.1%}",
            f"{worst:+.1%}" if worst > 0.0 else "-",
        ]
        lines.append("| " + " | ".join(str(cell) for cell in cells) + " |")
    pairs = Counter((o.verdict, o.finer_verdicts[-1]) for o in outcomes)
    lines += ["", "| verdict | " + " | ".join(f"finest: {word}" for word in ORDER) + " |", "|---" * 5 + "|"]
    lines += [
        f"| {word} | " + " | ".join(str(pairs.get((word, other), 0)) for other in ORDER) + " |"
        for word in ORDER
    ]
    same = sum(count for (one, other), count in pairs.items() if one == other)
    lines += [
        "",
        f"The verdict is the same in {same} of {len(outcomes)}; from pass to fail it goes in"
        f" {len(turned(outcomes))}.",
    ]
    return lines


def plot(outcomes: Sequence[Outcome], path: Path) -> None:
    """Write the plot: how far the finest mesh lies off, over the band that was stated."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(8.0, 5.0), layout="constrained")
    axes = figure.add_subplot()
    checks = [c for o in outcomes for c in o.checks]
    names = sorted({family_of(c) for c in checks})
    shares = [[c.off / c.band for c in checks if family_of(c) == name] for name in names]
    axes.axvspan(-1.0, 1.0, color="0.92")
    for row, own in enumerate(shares):
        spread = np.linspace(-0.3, 0.3, len(own)) if len(own) > 1 else np.zeros(1)
        axes.plot(np.clip(own, -3.0, 3.0), row + spread, ".", color="0.25", markersize=3)
    axes.set_yticks(range(len(names)), names)
    axes.set_xlim(-3.1, 3.1)
    axes.set_xlabel(
        "finest answer less the user's, over the stated band (grey: within it; beyond 3 drawn at 3)"
    )
    axes.set_title(f"{len(outcomes)} random brackets, seed {outcomes[0].seed}")
    axes.invert_yaxis()
    figure.savefig(path, dpi=130)


def _share(yes: object) -> str:
    found = list(yes)  # type: ignore[call-overload]
    return f"{np.mean(found):.1%}" if found else "-"
