"""What holds of every answer, whatever the bracket, and needs no second solve."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, Final

import numpy as np

from geometry.bracket import Bracket
from solver.analyse import Judged
from solver.results import Check, Results
from solver.verdict import verdict_of

MAY_BE_INFINITE: Final = (
    "lash_deg",
    "demand",
    "welds.used",
    "worst_used",
    "slip_used",
    "slipped_nm_per_deg",
    "stuck_nm_per_deg",
)
"""Figures where nothing holds; what is printed of them is looked at apart."""
LARGE_FIELDS: Final = ("mesh", "seconds", "findings")
UNBALANCE: Final = 1e-6
NOT_IN_HOLDS_TO: Final = ("natural frequency", "fit", "gap", "bearing of the column", "inside corner")


def problems_of(bracket: Bracket, judged: Judged, *, refined: bool) -> tuple[list[str], str]:
    """Return everything wrong with an answer, and the verdict that it would be if it were ink."""
    results = judged.results
    word = results.verdict
    if judged.solved is not None and not refined:
        word, reasons = verdict_of(
            results.checks,
            results.free_motions,
            results.friction_share,
            results.findings,
            bracket.limits,
            solved=True,
            refined=True,
            around=results.around,
        )
        found = list(_reasons(word, reasons))
    else:
        found = []
    found += [
        *_reasons(results.verdict, results.reasons),
        *_verdict(results, word),
        *_checks(results.checks),
        *_holds_to(results, word),
        *_numbers(results, "results"),
        *_statics(results),
    ]
    if results.hash != bracket.input_hash():
        found.append("the answer carries the hash of another bracket")
    return found, word


def _reasons(word: str, reasons: tuple[str, ...]) -> Iterator[str]:
    if not reasons:
        yield f"{word} without a reason"
    if any(not reason.strip() for reason in reasons):
        yield f"{word} with an empty reason"


def _verdict(results: Results, word: str) -> Iterator[str]:
    if results.verdict == "pass" or word == "pass":
        for finding in results.findings:
            if finding.severity != "note":
                yield f"a pass although {finding.code} is a {finding.severity}"
        for check in results.checks:
            if not check.used_upper <= 1.0:
                yield f"a pass although {check.name} uses {check.used_upper}"
        if results.free_motions:
            yield "a pass although something is free to move"
    if word in ("pass", "marginal"):
        driven = [m for m in results.free_motions if m.moves_casing and m.driven_by]
        if driven:
            yield f"{word} although a load case drives a free motion of the casing"


def _checks(checks: tuple[Check, ...]) -> Iterator[str]:
    names = [check.name for check in checks]
    for name in {name for name in names if names.count(name) > 1}:
        yield f"two checks are called {name}"
    for check in checks:
        if math.isnan(check.demand) or math.isnan(check.allowable) or math.isnan(check.band):
            yield f"{check.name} came out as no number"
        if check.demand < 0.0:
            yield f"{check.name} asks for less than nothing: {check.demand}"
        if not check.allowable >= 0.0:
            yield f"{check.name} allows {check.allowable}"
        if check.band < 0.0 or any(part.share < 0.0 for part in check.parts):
            yield f"{check.name} has a band below nought: {check.band}"
        if (
            check.parts
            and abs(sum(part.share for part in check.parts) - check.band) > 1e-9 + 1e-9 * check.band
        ):
            yield f"the parts of {check.name}'s band do not add up to it"
        if not (check.source.strip() and check.where.strip()):
            yield f"{check.name} lacks source or place"


def _holds_to(results: Results, word: str) -> Iterator[str]:
    """What it holds to has the factor in it already, so it is held against the couple itself."""
    holds, couple = results.holds_to_nm, results.couple_nm
    if holds is None or couple is None:
        return
    if not 0.0 <= holds < math.inf:
        yield f"holds to {holds}"
    if word == "pass" and holds <= couple:
        yield f"a pass for {couple} although it holds to {holds}"
    if holds < math.inf and not results.ended_by.strip():
        yield "nothing is said to end what it holds to"
    strained = [c for c in results.checks if c.kind in ("strength", "movement") and not _apart(c)]
    worst = max((c.used_upper for c in strained), default=0.0)
    if word in ("pass", "marginal") and worst <= 0.99 and holds < couple * 0.999:
        yield f"nothing is above {worst:.3f} at {couple} and yet it holds to {holds} only, {results.ended_by}"


def _apart(check: Check) -> bool:
    return any(word in check.name for word in NOT_IN_HOLDS_TO)


def _statics(results: Results) -> Iterator[str]:
    for case in results.cases:
        if not case.unbalance < UNBALANCE:
            yield f"{case.name}, {case.state}, is out of balance by {case.unbalance}"
    if results.turn_shares:
        whole = sum(part.share for part in results.turn_shares)
        if abs(whole - 1.0) > 1e-6:
            yield f"shares of the turn add up to {whole}"
        if any(part.share < -1e-6 for part in results.turn_shares):
            yield "a share of the turn is below nought"
    share = results.friction_share
    if share is not None and not -1e-6 <= share.share <= 1.0 + 1e-9:
        yield f"friction has a share of {share.share}"


def _numbers(value: Any, where: str) -> Iterator[str]:  # noqa: ANN401 - anything an answer holds
    """Yield what is no number anywhere in an answer, and what is infinite where nothing should be."""
    if isinstance(value, np.ndarray):
        if value.dtype.kind == "f" and not np.isfinite(value).all():
            yield f"{where} holds what is no number"
    elif isinstance(value, float):
        if math.isnan(value):
            yield f"{where} is no number"
        elif math.isinf(value) and not where.endswith(MAY_BE_INFINITE):
            yield f"{where} is infinite"
    else:
        for name, part in _parts(value):
            yield from _numbers(part, f"{where}.{name}" if name else where)


def _parts(value: Any) -> list[tuple[str, Any]]:  # noqa: ANN401 - anything an answer holds
    if is_dataclass(value) and not isinstance(value, type):
        names = [each.name for each in fields(value) if each.name not in LARGE_FIELDS]
        return [(name, getattr(value, name)) for name in names]
    if isinstance(value, dict):
        return list(value.items())
    return [("", one) for one in value] if isinstance(value, tuple | list) else []
