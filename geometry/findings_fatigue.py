"""Findings about the life of the bracket: metals without a curve, and fewer reversals than usual."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.loads import Fatigue
from geometry.materials import UnknownMaterialError, material


def fatigue_findings(bracket: Bracket) -> Iterator[Finding]:
    """Yield what bears on how many reversals the bracket lasts."""
    for plate in bracket.plates:
        try:
            kind = material(plate.material or "", bracket.materials).kind
        except UnknownMaterialError:
            continue
        if kind != "steel":
            yield found("fatigue-no-curve", f"plate {plate.name}", metal=kind)
    fatigue, usual = bracket.loads.fatigue, Fatigue().full_cycles
    couple = bracket.loads.couple.value_nm
    if fatigue.reversals < usual:
        yield found("fatigue-fewer", "loads, fatigue", count=fatigue.reversals, usual=usual)
    if fatigue.spectrum and couple is not None and max(t.torque_nm for t in fatigue.spectrum) < couple:
        yield found("fatigue-spectrum-mild", "loads, fatigue", couple_nm=couple)
