"""Which stiffnesses a bracket states as a range."""

from __future__ import annotations

from geometry.bracket import Bracket


def range_count(bracket: Bracket) -> int:
    """Return how many stiffnesses of the bracket are given as a range with two different ends."""
    column = bracket.column
    ranges = [b.stiffness_n_per_mm for b in column.bearings] if column.held_by == "bearings" else []
    if column.held_by == "donor mount" and column.mount is not None:
        ranges += [column.mount.sideways_n_per_mm, column.mount.along_n_per_mm]
    if bracket.dash_bar is not None:
        ranges += [stay.stiffness_n_per_mm for stay in bracket.dash_bar.stays]
        ranges += [(0.0, 1.0) for end in bracket.dash_bar.ends if end.kind == "bolted flange"]
        ranges += [
            end.bending_nm_per_deg for end in bracket.dash_bar.ends if end.bending_nm_per_deg is not None
        ]
    return sum(low != high for low, high in ranges)
