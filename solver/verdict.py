"""The verdict: worst first, with its reasons. It is never a certificate."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from geometry.digits import percent_apart
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.loads import Limits
from solver.around.line import AroundLine, reasons_of
from solver.results import Check, FreeMotion, FrictionShare, Verdict, governing

UNDECIDED_WITHOUT = frozenset({"blank-column", "blank-bearings", "blank-mount", "blank-bar-end"})
"""Blanks that decide what carries the load: while one is open, even a fail would be a guess."""
WIDE_BAND = 0.1
"""A band wider than this, across 100 %, decides nothing."""


def verdict_of(
    checks: Sequence[Check],
    motions: Sequence[FreeMotion],
    share: FrictionShare | None,
    findings: Sequence[Finding],
    limits: Limits,
    *,
    solved: bool,
    refined: bool,
    around: Sequence[AroundLine] = (),
) -> tuple[Verdict, tuple[str, ...]]:
    """Return the verdict and every reason for it, the gravest first.

    `solved` says whether an analysis could be made at all, `refined` whether its figures are ink. What is
    said `around` the bracket can only make the verdict worse.
    """
    failing = [*failures(checks, motions), *reasons_of(around, "fails")]
    if failing and refined and not any(f.code in UNDECIDED_WITHOUT for f in findings):
        return "fail", tuple(failing)
    doubts = _doubts(checks, findings, solved=solved, refined=refined)
    if doubts:
        return "no verdict", (*doubts, *failing)
    margins = [*_margins(checks, motions, share, findings, limits), *reasons_of(around, "broken")]
    if margins:
        return "marginal", tuple(margins)
    return "pass", (_within(checks, limits),)


def failures(checks: Sequence[Check], motions: Sequence[FreeMotion]) -> list[str]:
    """Return a sentence for everything that fails."""
    found = [f"{m.words}; driven by {_list(m.driven_by)}" for m in motions if m.moves_casing and m.driven_by]
    over = [c for c in checks if c.kind != "share" and not _undecided(c) and c.used_upper > 1.0]
    return found + [_over(c) for c in sorted(over, key=lambda c: -c.used_upper)]


def _undecided(check: Check) -> bool:
    """Return whether the meshes leave a check's band so wide that it lies on both sides of 100 %."""
    band = check.mesh_band
    return band > WIDE_BAND and check.used * (1.0 - band) < 1.0 < check.used * (1.0 + band)


def _doubts(
    checks: Sequence[Check], findings: Sequence[Finding], *, solved: bool, refined: bool
) -> list[str]:
    found = [sentence(f) for f in findings if f.bars_verdict]
    if not solved and not found:
        found.append("the bracket could not be analysed")
    if solved and not refined:
        found.append("the figures are pencil: the mesh was not refined, so nothing is decided")
    found += [
        f"{c.name} uses {c.used:.0%} with a band of {c.mesh_band:.0%}:"
        " the mesh cannot settle on which side of 100 % it lies"
        for c in checks
        if c.kind != "share" and _undecided(c)
    ]
    # What is no number compares with nothing, and must not slip through as within its allowable.
    found += [f"{c.name} of {c.where} came out as no number" for c in checks if math.isnan(c.used_upper)]
    return found


def _margins(
    checks: Sequence[Check],
    motions: Sequence[FreeMotion],
    share: FrictionShare | None,
    findings: Sequence[Finding],
    limits: Limits,
) -> list[str]:
    found = [
        f"{c.name} uses {percent_apart(c.used_upper, limits.marginal_used)}% of its"
        f" allowable{_of_band(c, limits.marginal_used)}, {c.where}"
        for c in sorted(checks, key=lambda c: -c.used_upper)
        if c.kind != "share" and c.used_upper > limits.marginal_used
    ]
    found += [
        f"{c.name} uses {percent_apart(c.used_upper, 1.0)}%: {c.note}, {c.where}"
        for c in checks
        if c.kind == "share" and c.used_upper > 1.0
    ]
    found += [
        f"{m.words}; no load case drives it" if not m.driven_by else f"{m.words}; it leaves the casing still"
        for m in motions
    ]
    if share is not None and share.share > limits.friction_share:
        found.append(
            f"{percent_apart(share.share, limits.friction_share)}% of the resistance to the couple rests on"
            f" bolt friction, more than {limits.friction_share:.0%}"
        )
    return found + [sentence(f) for f in findings if f.severity == "rule"]


_PART_WORDS: Final = {
    "mesh": "the mesh",
    "footprints": "the model of the footprints",
    "thickness": "the sheet's thickness",
    "wall": "the wall of the dash bar",
    "couple": "the couple",
}


def _band_words(check: Check) -> str:
    """Return a check's band, and what it comes from most."""
    part = check.largest_part
    most = f", most of it {_PART_WORDS[part.name]}" if part is not None else ""
    return f"band of {check.band:.0%} included{most}"


def _of_band(check: Check, limit: float) -> str:
    """Return the band in words where only with it a check goes past a limit."""
    return f" ({_band_words(check)})" if check.used <= limit else ""


def _over(check: Check) -> str:
    if check.used_upper == float("inf"):
        return f"{check.name} of {check.where}: {check.note or 'nothing holds it'}"
    band = f" ({_band_words(check)})" if check.used <= 1.0 else ""
    used = percent_apart(check.used_upper, 1.0)
    return f"{check.name} uses {used}% of its allowable{band}, {check.where}; {check.case}"


def _within(checks: Sequence[Check], limits: Limits) -> str:
    """Return why a bracket passes, with the check that comes nearest to its limit."""
    words = f"every check that can fail is within {limits.marginal_used:.0%} of its allowable"
    nearest = governing(checks)
    if nearest is None:
        return words
    used = percent_apart(nearest.used_upper, limits.marginal_used)
    return f"{words}; nearest is {nearest.name}, {used}% ({_band_words(nearest)})"


def _list(names: Sequence[str]) -> str:
    if len(names) <= 3:
        return ", ".join(names)
    return f"{', '.join(names[:3])} and {len(names) - 3} more"
