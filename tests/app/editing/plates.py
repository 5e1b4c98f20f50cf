"""Plates for tests of edits; invented measures."""

from __future__ import annotations

from hypothesis import strategies as st

from geometry.bracket import Bracket
from geometry.plate import Corner, CutOut, FoldLine, Hole, Plate, Slot
from tests.geometry.example_bracket import example_bracket

steps = st.tuples(*[st.floats(-40, 40, allow_nan=False).map(lambda v: round(v, 3))] * 2)
MAIN = "main"


def plate(**changes: object) -> Plate:
    """Return an L with an arc on its left side, a hole, a slot, a cut-out and a fold."""
    outline = (
        Corner(at_mm=(0, 0), radius_mm=5),
        Corner(at_mm=(120, 0), radius_mm=8),
        Corner(at_mm=(120, 60)),
        Corner(at_mm=(60, 60), radius_mm=6),
        Corner(at_mm=(60, 140)),
        Corner(at_mm=(0, 140), arc_via_mm=(-20, 110)),
        Corner(at_mm=(0, 80)),
    )
    cut_out = CutOut(
        name="window", corners=tuple(Corner(at_mm=at) for at in ((70, 10), (110, 10), (110, 40)))
    )
    made = Plate(
        name="L",
        material="S235",
        thickness_mm=4,
        outline=outline,
        openings=(
            Hole(name="left", centre_mm=(20, 30), diameter_mm=9),
            Slot(name="slot 1", centre_mm=(45, 20), length_mm=20, width_mm=8, angle_deg=30),
            cut_out,
        ),
        folds=(FoldLine(name="foot", from_mm=(0, 100), to_mm=(60, 100), inside_radius_mm=5),),
    )
    return made.but(**changes)


def bracket() -> Bracket:
    """Return the example bracket with the L beside its own plate."""
    return example_bracket().with_plate(plate())


def near(one: Plate, other: Plate) -> bool:
    """Return whether two plates have the same corners, openings and folds within a millionth of a mm."""
    return _flat(one.model_dump()) == _flat(other.model_dump())


def _flat(value: object) -> object:
    if isinstance(value, float):
        return round(value, 6) + 0.0
    if isinstance(value, dict):
        return {key: _flat(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_flat(part) for part in value]
    return value
