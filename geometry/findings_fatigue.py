"""Findings about the life of the bracket: metals without a curve; reversals that are few, mild or hard."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.loads import Fatigue
from geometry.materials import UnknownMaterialError, material

_ALIKE: Final = 1.0 + 1e-9
"""A couple worked out from readings may lie a rounding off one that is typed."""


def fatigue_findings(bracket: Bracket) -> Iterator[Finding]:
    """Yield what bears on how many reversals the bracket lasts."""
    parts = [(f"plate {plate.name}", plate.material or "") for plate in bracket.plates]
    if bracket.dash_bar is not None:
        parts.append((bracket.dash_bar.name, bracket.dash_bar.material))
    for where, name in parts:
        try:
            kind = material(name, bracket.materials).kind
        except UnknownMaterialError:
            continue
        if kind != "steel":
            yield found("fatigue-no-curve", where, metal=kind)
    fatigue, usual = bracket.loads.fatigue, Fatigue().full_cycles
    couple = bracket.loads.couple.value_nm
    if fatigue.reversals < usual:
        yield found("fatigue-fewer", "loads, fatigue", count=fatigue.reversals, usual=usual)
    if not fatigue.spectrum or couple is None:
        return
    most = max(turn.torque_nm for turn in fatigue.spectrum)
    if most < couple:
        yield found("fatigue-spectrum-mild", "loads, fatigue", couple_nm=couple)
    elif most > _ALIKE * couple:  # nothing but its reversals is judged at it: neither slip nor strength
        yield found("fatigue-spectrum-hard", "loads, fatigue", most_nm=most, couple_nm=couple)
