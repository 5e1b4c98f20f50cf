"""Welds laid, changed and taken away, and what keeps to them when the bracket changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.editing.joined_plates import joined
from app.editing.names import plate_of, with_plate_changed
from app.editing.openings import remove_plate, rename_plate
from app.editing.other_hand import for_other_hand
from app.editing.outline import move_corner
from app.editing.refused import EditRefused
from app.editing.renames import rename_anchor
from app.editing.saw import saw
from app.editing.variants import as_variant, with_variant
from app.editing.welding import (
    remove_weld,
    rename_weld,
    weld_edge,
    welded_along,
    with_sides,
)
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from geometry.fixing import AtAnchor
from geometry.weld import AtPlate
from tests.brackets import welded_strip

SAMPLE = Path(__file__).parents[3] / "sample_brackets" / "sluice_welded.bracket.json"


def _welded() -> Bracket:
    bracket = read_bracket(SAMPLE).bracket
    assert bracket is not None
    return bracket


def _bare() -> Bracket:
    return _welded().but(welds=())


def _top(bracket: Bracket) -> int:
    """Return the edge of the casing plate that stands under the foot plate."""
    places = [corner.at_mm[1] for corner in bracket.plate("casing plate").outline]
    return next(i for i, y in enumerate(places) if y == places[(i + 1) % len(places)] == 90.0)


def test_an_edge_is_welded_to_the_plate_it_stands_on() -> None:
    bare = _bare()
    made = weld_edge(bare, "casing plate", _top(bare))
    (weld,) = made.welds
    assert weld.joins == AtPlate(plate="foot plate")
    assert weld.throat_mm == 4.0
    assert weld.length_mm == 152.0
    assert {f.code for f in findings_of(made)} == {"weld-unseen"} | {f.code for f in findings_of(_welded())}


def test_an_edge_is_welded_to_the_anchor_it_stands_on() -> None:
    strip = welded_strip()
    made = weld_edge(strip.but(welds=()), "strip", 0)
    assert made.welds[0].joins == AtAnchor(anchor="floor")


def test_an_edge_that_stands_on_nothing_is_refused() -> None:
    bare = _bare()
    with pytest.raises(EditRefused, match="stands on no plate, bar or anchor"):
        weld_edge(bare, "casing plate", (_top(bare) + 2) % 6)


def test_an_edge_is_not_welded_twice() -> None:
    bracket = _welded()
    with pytest.raises(EditRefused, match="welded already, by weld top"):
        weld_edge(bracket, "casing plate", _top(bracket))
    assert welded_along(bracket, "casing plate", _top(bracket)) == ("top",)
    assert welded_along(bracket, "casing plate", 0) == ()


def test_an_edge_that_is_not_there_is_refused() -> None:
    with pytest.raises(EditRefused, match="no edge 41"):
        weld_edge(_bare(), "casing plate", 40)


def test_an_arc_is_not_welded() -> None:
    bare = _bare()
    plate, top = bare.plate("casing plate"), _top(bare)
    corners = list(plate.outline)
    corners[top] = corners[top].but(arc_via_mm=(0.0, 95.0))
    with pytest.raises(EditRefused, match="is an arc"):
        weld_edge(bare.with_plate(plate.but(outline=tuple(corners))), "casing plate", top)


def test_sides_name_and_removal() -> None:
    bracket = _welded()
    assert with_sides(bracket, "top", "front").welds[0].sides == "front"
    assert rename_weld(bracket, "top", "foot weld").welds[0].name == "foot weld"
    assert remove_weld(bracket, "top").welds == ()
    with pytest.raises(EditRefused, match="there is no weld 'side'"):
        remove_weld(bracket, "side")


def test_welds_follow_renamed_plates_and_anchors() -> None:
    bracket = rename_plate(rename_plate(_welded(), "foot plate", "foot"), "casing plate", "front")
    assert (bracket.welds[0].plate, bracket.welds[0].joins) == ("front", AtPlate(plate="foot"))
    assert rename_anchor(welded_strip(), "floor", "sill").welds[0].joins == AtAnchor(anchor="sill")


@pytest.mark.parametrize("plate", ["foot plate", "casing plate"])
def test_a_removed_plate_takes_its_welds_along(plate: str) -> None:
    assert remove_plate(_welded(), plate).welds == ()


def test_a_weld_stays_on_its_edge_while_a_corner_is_dragged() -> None:
    bracket = _welded()
    top = _top(bracket)
    plate = plate_of(bracket, "casing plate")
    moved = with_plate_changed(bracket, "casing plate", move_corner(plate, top, (60.0, 90.0)))
    assert moved.welds[0].length_mm == pytest.approx(136.0)
    assert "weld-off-outline" not in {f.code for f in findings_of(moved)}


def test_a_weld_on_part_of_an_edge_keeps_its_share() -> None:
    bracket = _welded()
    weld = bracket.welds[0].but(from_mm=(-38.0, 90.0), to_mm=(38.0, 90.0))
    plate = plate_of(bracket, "casing plate")
    changed = move_corner(plate, _top(bracket), (60.0, 90.0))
    moved = with_plate_changed(bracket.with_weld(weld), "casing plate", changed)
    assert moved.welds[0].length_mm == pytest.approx(68.0)


def test_welded_plates_are_not_sawn_or_joined() -> None:
    with pytest.raises(EditRefused, match="cannot be sawn while weld top is on it"):
        saw(_welded(), "foot plate", (0.0, -40.0), (0.0, 80.0))
    with pytest.raises(EditRefused, match="cannot be joined while weld top is on it"):
        joined(_welded(), "casing plate", "foot plate")


def test_other_hand_twice_is_the_same() -> None:
    bracket = _welded()
    lop = bracket.with_weld(bracket.welds[0].but(from_mm=(-70.0, 90.0), to_mm=(20.0, 90.0)))
    mirrored = for_other_hand(lop)
    assert {mirrored.welds[0].from_mm, mirrored.welds[0].to_mm} == {(70.0, 90.0), (-20.0, 90.0)}
    assert for_other_hand(mirrored) == lop
    assert [f.code for f in findings_of(mirrored)] == [f.code for f in findings_of(lop)]


def test_a_variant_keeps_its_welds() -> None:
    bracket = with_variant(_welded(), "bare", _bare())
    shown = as_variant(bracket, "bare")
    assert shown.welds == ()
    assert as_variant(shown, shown.variants[0].name).welds == bracket.welds
