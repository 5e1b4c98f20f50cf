"""Findings about metals of a bracket's own: figures that no such metal has, names, steel beyond the rules."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import OwnMaterial
from geometry.materials import in_table, same_material

MOST_SPREAD: Final = {"steel": 2.5, "stainless": 3.5, "aluminium": 4.0}
"""Least tensile strength over least yield, at most: deep drawing sheet and soft metals reach some 2, 2.5 and
3.3 (common practice, no source)."""
STRONGEST_MPA: Final = 700.0
"""Yield of the strongest steel in EN 1993-1-12, S700 (from memory, to be verified)."""
_FIGURES: Final = {
    "steel": ((100.0, 1500.0), (190_000.0, 220_000.0), (7500.0, 8200.0)),
    "stainless": ((100.0, 1500.0), (180_000.0, 215_000.0), (7500.0, 8200.0)),
    "aluminium": ((20.0, 700.0), (60_000.0, 80_000.0), (2500.0, 3000.0)),
}
"""Strength in MPa, elastic modulus in MPa, density in kg/m3."""


def material_findings(bracket: Bracket) -> Iterator[Finding]:
    """Yield what is wrong with the metals that are the bracket's own."""
    for own in bracket.materials:
        yield from _material(own)
    yield from _too_strong(bracket)


def _material(own: OwnMaterial) -> Iterator[Finding]:
    where = f"material {own.name}"
    strength, modulus, density = _FIGURES[own.kind]
    for what, value, unit, (low, high) in (
        ("yield", own.yield_mpa, "MPa", strength),
        ("tensile strength", own.tensile_mpa, "MPa", (strength[0], 1.5 * strength[1])),
        ("elastic modulus", own.elastic_modulus_mpa, "MPa", modulus),
        ("density", own.density_kg_m3, "kg/m3", density),
    ):
        if not low <= value <= high:
            yield found(
                "material-figure-absurd",
                where,
                what=what,
                value=value,
                unit=unit,
                kind=own.kind,
                low=low,
                high=high,
            )
    if in_table(own.name):
        yield found("material-in-table", where, name=own.name)
    if not own.source.strip():
        yield found("material-no-source", where)
    if own.tensile_mpa > MOST_SPREAD[own.kind] * own.yield_mpa:
        ratio = own.tensile_mpa / own.yield_mpa
        yield found(
            "material-spread",
            where,
            tensile_mpa=own.tensile_mpa,
            yield_mpa=own.yield_mpa,
            ratio=ratio,
            kind=own.kind,
        )
    if own.yield_mpa > own.tensile_mpa:
        yield found("material-strengths", where, yield_mpa=own.yield_mpa, tensile_mpa=own.tensile_mpa)


def _too_strong(bracket: Bracket) -> Iterator[Finding]:
    """Tell own steels of plates and dash bar that no rule for sheets and sections goes up to."""
    used = [plate.material or "" for plate in bracket.plates]
    used += [] if bracket.dash_bar is None else [bracket.dash_bar.material]
    for own in bracket.materials:
        if own.kind != "steel" or own.yield_mpa <= STRONGEST_MPA:
            continue
        if any(same_material(own.name, name) for name in used):
            where = f"material {own.name}"
            yield found("material-beyond-rules", where, yield_mpa=own.yield_mpa, most_mpa=STRONGEST_MPA)
