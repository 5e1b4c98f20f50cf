"""How much thinner a sheet, or the wall of a dash bar, may be than it is sold as.

The tables are those of hot-rolled sheet and plate, the widest usual; a sheet that was measured says so in its
plate.
"""

from __future__ import annotations

from typing import Final

from geometry.bar_section import Section, Solid
from geometry.bracket import Bracket
from geometry.materials import UnknownMaterialError, material
from geometry.plate import Plate

SOURCE: Final = "EN 10051:2010 table 2, width to 1200 mm (from memory, to be verified against the document)"
ALUMINIUM_SOURCE: Final = "EN 485-3, width to 1250 mm (from memory, to be verified against the document)"

WALL_SOURCE: Final = (
    "EN 10219-2, wall of welded hollow sections (from memory, to be verified against the document)"
)

_STEEL: Final = (
    (2.0, 0.17), (2.5, 0.18), (3.0, 0.20), (4.0, 0.22), (5.0, 0.24), (6.0, 0.26), (8.0, 0.29),
    (10.0, 0.32), (12.5, 0.35), (15.0, 0.37), (25.0, 0.40),
)  # fmt: skip
"""(up to and including this thickness in mm, tolerance either way in mm)."""
_ALUMINIUM: Final = (
    (4.0, 0.28), (5.0, 0.30), (6.0, 0.32), (8.0, 0.35), (10.0, 0.45), (15.0, 0.50), (20.0, 0.60),
)  # fmt: skip
_THICKER_SHARE: Final = 0.04
"""Beyond the tables."""
_MOST_SHARE: Final = 0.1
"""Thin sheet is cold rolled and truer than the hot-rolled table's first row."""
_WALL_SHARE: Final = 0.1
_MOST_OFF_WALL_MM: Final = 0.5


def usual_tolerance_mm(thickness_mm: float, kind: str) -> float:
    """Return how much a sheet may be thinner than its nominal thickness, mm; `kind` is its metal's."""
    table = _ALUMINIUM if kind == "aluminium" else _STEEL
    found = next((allowed for up_to, allowed in table if thickness_mm <= up_to + 1e-9), None)
    return min(_THICKER_SHARE * thickness_mm if found is None else found, _MOST_SHARE * thickness_mm)


def tolerance_mm(plate: Plate, kind: str) -> float:
    """Return how much a plate may be thinner than drawn, mm: as it says, else as sheets usually are."""
    if plate.thickness_tolerance_mm is not None:
        return plate.thickness_tolerance_mm
    return usual_tolerance_mm(plate.thickness_mm, kind)


def usual_tolerance_of(bracket: Bracket, plate: Plate) -> float | None:
    """Return how much thinner a bracket's plate usually may be, mm; None while its metal is not known."""
    kind = metal_kind(bracket, plate)
    return None if kind is None else usual_tolerance_mm(plate.thickness_mm, kind)


def metal_kind(bracket: Bracket, plate: Plate) -> str | None:
    """Return the kind of a plate's metal; None while it is blank or unknown."""
    try:
        return material(plate.material or "", bracket.materials).kind
    except UnknownMaterialError:
        return None


def tolerance_source(kind: str) -> str:
    """Return where the usual tolerance comes from."""
    return ALUMINIUM_SOURCE if kind == "aluminium" else SOURCE


def wall_tolerance_mm(section: Section) -> float:
    """Return how much thinner the wall of a dash bar may be than typed, mm; 0 for a solid bar."""
    return 0.0 if isinstance(section, Solid) else min(_WALL_SHARE * section.wall_mm, _MOST_OFF_WALL_MM)
