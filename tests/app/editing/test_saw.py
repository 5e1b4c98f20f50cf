"""The saw and its reverse: two pieces that stand where they stood, and one plate again."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.editing.refused import EditRefused
from app.editing.saw import joined, saw
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtHole
from geometry.flat_pattern import FlatPattern, flat_pattern
from geometry.flat_segments import Arc
from geometry.fold_map import FoldMap
from geometry.placing import place_bolts
from geometry.plate import Corner, CutOut, FoldLine, Hole, Placement, Plate, Slot
from tests.brackets import bolt, one_piece, rectangle

FOLDED = one_piece(folded=True)
LINE = tuple[tuple[float, float], tuple[float, float]]


def in_space(bracket: Bracket) -> dict[str, np.ndarray]:
    return {f"{p.bolt} {p.side}": np.concatenate([p.mating_mm, p.axis]) for p in place_bolts(bracket)}


def same_in_space(a: Bracket, b: Bracket) -> bool:
    one, other = in_space(a), in_space(b)
    return set(one) == set(other) and all(np.abs(one[k] - other[k]).max() < 1e-9 for k in one)


def edges_of(pattern: FlatPattern) -> list[tuple[float, ...]]:
    """Return the edges of outline and openings whichever way round and wherever they begin."""
    found = []
    for edge in (edge for loop in (pattern.outline, *pattern.openings.values()) for edge in loop):
        if isinstance(edge, Arc):
            ends = [] if edge.is_circle else sorted([edge.start, edge.end])
            found.append(
                (edge.radius_mm, abs(edge.turn_rad), *edge.centre, *(v for end in ends for v in end))
            )
        else:
            found.append(tuple(v for end in sorted([edge.start, edge.end]) for v in end))
    return sorted(tuple(round(v, 6) + 0.0 for v in edge) for edge in found)


def lonely(plate: Plate) -> Bracket:
    return Bracket(plates=(plate,))


def outline_of(corners: Sequence[tuple[float, float]], **more: object) -> Plate:
    fields = {"name": "p", "material": "S235", "thickness_mm": 4.0}
    return Plate.model_validate({**fields, "outline": tuple(Corner(at_mm=at) for at in corners), **more})


def test_across_a_fold_it_makes_two_folded_pieces_with_their_bolts() -> None:
    sawn = saw(FOLDED, "plate", (45.0, -80.0), (44.0, 200.0))
    assert [p.name for p in sawn.plates] == ["plate a", "plate b"]
    assert [[f.name for f in p.folds] for p in sawn.plates] == [["foot"], ["foot"]]
    assert {b.name: b.plate for b in sawn.bolts} == {
        str(k): f"plate {'b' if k == 7 else 'a'}" for k in range(1, 8)
    }
    assert same_in_space(FOLDED, sawn)
    assert sum(flat_pattern(p).area_mm2 for p in sawn.plates) == pytest.approx(
        flat_pattern(FOLDED.plates[0]).area_mm2, abs=1e-6
    )


def test_a_piece_without_the_still_panel_stands_where_it_stood() -> None:
    turned = FOLDED.plates[0].but(
        placement=Placement(
            origin_mm=(10, -20, 30),
            x_axis=(1, 2, 0.5),
            y_axis=(-1, 1, 0.3),
            origin_on="front",
            still_at_mm=(-60, -50),
        )
    )
    bare = tuple(b.but(pad_diameter_mm=None) for b in FOLDED.bolts)
    bracket = FOLDED.but(plates=(turned,), bolts=bare)
    row = next(o for o in turned.openings if o.name == "4")
    assert isinstance(row, Hole)
    # Just above the bend: the foot comes off as a flat strip that stands as the foot stood.
    tangent = FoldMap(turned).folded.zones[0].width_mm / 2.0 + turned.folds[0].from_mm[1]
    with pytest.raises(EditRefused, match="along the bend of fold foot"):
        saw(bracket, "plate", (-90, tangent - 1.0), (90, tangent - 1.0))
    above = tangent + 1.0
    sawn = saw(bracket, "plate", (-90, above), (90, above))
    foot = sawn.plates[0]
    assert foot.folds == ()
    assert foot.placement.still_at_mm is None
    assert foot.placement.origin_on == "front"
    assert same_in_space(bracket, sawn)
    again = joined(sawn, "plate b", "plate a")
    assert same_in_space(bracket, again)
    assert [p.name for p in again.plates] == ["plate"]


def test_a_folded_piece_without_the_still_panel_stands_where_it_stood() -> None:
    folds = tuple(
        FoldLine(name=f"f{y}", from_mm=(-50, y), to_mm=(50, y), angle_deg=60, inside_radius_mm=8)
        for y in (40, 90, 140)
    )
    holes = [Hole(name=str(k), centre_mm=(0, y), diameter_mm=9) for k, y in enumerate((15, 65, 115, 165))]
    plate = rectangle(
        "p", (-50, 50), (-20, 190), holes, 4.0, "S235", Placement(x_axis=(0, 1, 0), y_axis=(0, 0, 1)), folds
    )
    bracket = Bracket(plates=(plate,))
    bracket = bracket.but(
        anchors=tuple({"name": str(k), "word": "w"} for k in range(4)),
        bolts=tuple(bolt(str(k), "p", AtAnchor(anchor=str(k))) for k in range(4)),
    )
    for y in (82.0, 132.0):
        sawn = saw(bracket, "p", (-60, y), (60, y + 0.5))
        assert sorted(len(p.folds) for p in sawn.plates) == ([1, 2])
        assert same_in_space(bracket, sawn)
        assert same_in_space(bracket, joined(sawn, *(p.name for p in sawn.plates)))


def test_an_opening_becomes_part_of_both_outlines_and_comes_back_as_a_hole() -> None:
    plate = FOLDED.plates[0]
    sawn = saw(FOLDED, "plate", (-90, -2), (90, 2))
    assert all("shaft" not in [o.name for o in p.openings] for p in sawn.plates)
    for piece in sawn.plates:
        arcs = [e for e in flat_pattern(piece).outline if isinstance(e, Arc)]
        assert len(arcs) == 1
        assert arcs[0].radius_mm == pytest.approx(20.0, abs=1e-12)
    whole = joined(sawn, "plate a", "plate b").plates[0]
    back = [o for o in whole.openings if isinstance(o, Hole) and o.diameter_mm > 30]
    assert len(back) == 1
    assert back[0].diameter_mm == pytest.approx(40.0, abs=1e-9)
    assert math.dist(back[0].centre_mm, (0, 0)) < 1e-9
    assert {corner.at_mm for corner in whole.outline} == {corner.at_mm for corner in plate.outline}


def test_a_rounding_elsewhere_keeps_its_radius_and_one_that_is_cut_stays_an_arc() -> None:
    square = [(0, 0), (100, 0), (100, 100), (0, 100)]
    plate = outline_of(square).but(outline=tuple(Corner(at_mm=at, radius_mm=20) for at in square))
    sawn = saw(lonely(plate), "p", (90.0, -10.0), (90.0, 110.0))
    left, right = sawn.plates
    assert [c.radius_mm for c in left.outline].count(20) == 2
    assert [c.radius_mm for c in right.outline].count(20) == 0
    radii = [e.radius_mm for p in sawn.plates for e in flat_pattern(p).outline if isinstance(e, Arc)]
    assert radii == pytest.approx([20.0] * 6, abs=1e-9)
    again = joined(sawn, "p a", "p b").plates[0]
    assert [c.radius_mm for c in again.outline] == pytest.approx([20.0] * 4)
    assert {tuple(np.round(c.at_mm, 9)) for c in again.outline} == set(square)


def test_an_arc_edge_is_cut_where_the_line_meets_it() -> None:
    plate = outline_of([(0, 0), (100, 0), (100, 50), (0, 50)]).but(
        outline=(
            Corner(at_mm=(0, 0)),
            Corner(at_mm=(100, 0)),
            Corner(at_mm=(100, 50), arc_via_mm=(50, 100)),
            Corner(at_mm=(0, 50)),
        )
    )
    sawn = saw(lonely(plate), "p", (30.0, -10.0), (30.0, 150.0))
    tops = [c for p in sawn.plates for c in p.outline if c.arc_via_mm is not None]
    assert len(tops) == 2
    height = 50 + math.sqrt(50**2 - 20**2)
    assert {round(c.at_mm[1], 9) for p in sawn.plates for c in p.outline if abs(c.at_mm[0] - 30) < 1e-9} == {
        0.0,
        round(height, 9),
    }
    again = joined(sawn, "p a", "p b").plates[0]
    assert len(again.outline) == 4
    assert flat_pattern(again).area_mm2 == pytest.approx(flat_pattern(plate).area_mm2, abs=1e-9)


def test_it_cuts_from_corner_to_corner_and_in_line_with_an_edge() -> None:
    square = outline_of([(0, 0), (100, 0), (100, 100), (0, 100)])
    halves = saw(lonely(square), "p", (0.0, 0.0), (100.0, 100.0)).plates
    assert [len(p.outline) for p in halves] == [3, 3]
    assert [flat_pattern(p).area_mm2 for p in halves] == pytest.approx([5000, 5000])
    ell = outline_of([(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)])
    for ends in (((-5.0, 40.0), (40.0, 40.0)), ((40.0, 40.0), (-5.0, 40.0))):
        parts = saw(lonely(ell), "p", *ends).plates
        assert sorted(flat_pattern(p).area_mm2 for p in parts) == pytest.approx([2400, 4000])
    again = joined(saw(lonely(ell), "p", (-5, 40), (40, 40)), "p a", "p b").plates[0]
    assert {c.at_mm for c in again.outline} == {c.at_mm for c in ell.outline}


def test_a_short_line_saws_one_leg_of_a_fork() -> None:
    fork = outline_of([(0, 0), (100, 0), (100, 100), (70, 100), (70, 40), (30, 40), (30, 100), (0, 100)])
    parts = saw(lonely(fork), "p", (-5.0, 60.0), (50.0, 60.0)).plates
    assert sorted(flat_pattern(p).area_mm2 for p in parts) == pytest.approx([1200, 7600 - 1200])
    with pytest.raises(EditRefused, match="would make 3 pieces: draw a shorter line"):
        saw(lonely(fork), "p", (-5.0, 60.0), (105.0, 60.0))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            ((36.0, -90.0), (30.0, 200.0)),
            r"passes .* mm from the middle of bolt 2, whose footprint reaches 10.0 mm",
        ),
        (((-90.0, -52.0), (50.0, -52.0)), "ends inside the plate, 25.0 mm short of its edge"),
        (((100.0, 0.0), (200.0, 0.0)), "does not cross the plate"),
        (((-90.0, -60.0), (90.0, -60.0)), "leaves the plate in one piece"),
        (((-90.0, 0.0), (0.0, 0.0)), "leaves the plate in one piece"),
        (((5.0, 5.0), (5.0, 5.0)), "has no length"),
        (((-90.0, 90.0), (90.0, 94.0)), "fold foot"),
    ],
)
def test_what_makes_no_sense_is_refused_with_the_reason(line: LINE, said: str) -> None:
    with pytest.raises(EditRefused, match=said):
        saw(FOLDED, "plate", *line)


def test_a_plate_that_is_not_there_is_named() -> None:
    with pytest.raises(EditRefused, match="no plate 'lid'; there is: plate"):
        saw(FOLDED, "lid", (0, 0), (1, 1))
    with pytest.raises(EditRefused, match="no plate 'lid'"):
        joined(FOLDED, "plate", "lid")


def test_a_slot_with_a_bolt_anywhere_in_it_is_not_cut() -> None:
    slot = Slot(name="s", centre_mm=(0, 50), length_mm=80, width_mm=9)
    plate = rectangle("p", (-60, 60), (0, 100), [])
    bracket = lonely(plate.but(openings=(slot,))).but(
        anchors=({"name": "s", "word": "w"},), bolts=(bolt("s", "p", AtAnchor(anchor="s")),)
    )
    with pytest.raises(EditRefused, match="runs through opening s, which bolt s goes through"):
        saw(bracket, "p", (32.0, -10.0), (32.0, 110.0))
    assert len(saw(bracket, "p", (50.0, -10.0), (50.0, 110.0)).plates) == 2


def test_a_sawn_slot_and_cut_out_come_back() -> None:
    slot = Slot(name="s", centre_mm=(-20, 50), length_mm=40, width_mm=9, angle_deg=30)
    window = CutOut(
        name="w",
        corners=(
            Corner(at_mm=(20, 30), radius_mm=4),
            Corner(at_mm=(40, 30), radius_mm=4),
            Corner(at_mm=(40, 70), arc_via_mm=(30, 78)),
            Corner(at_mm=(20, 70)),
        ),
    )
    plate = rectangle("p", (-60, 60), (0, 100), []).but(openings=(slot, window))
    sawn = saw(lonely(plate), "p", (-70.0, 45.0), (70.0, 55.0))
    again = joined(sawn, "p a", "p b").plates[0]
    before, after = flat_pattern(plate), flat_pattern(again)
    assert after.area_mm2 == pytest.approx(before.area_mm2, abs=1e-6)
    assert after.cut_length_mm == pytest.approx(before.cut_length_mm, abs=1e-6)
    assert len(again.openings) == 2


def test_bolts_between_plates_follow_the_piece_their_hole_is_in() -> None:
    lower = rectangle("lower", (-60, 60), (0, 60), [Hole(name="a", centre_mm=(40, 50), diameter_mm=9)])
    upper = rectangle(
        "upper",
        (-60, 60),
        (40, 120),
        [Hole(name="a", centre_mm=(40, 50), diameter_mm=9)],
        placement=Placement(origin_mm=(0, 0, 6)),
    )
    lap = bolt("1", "lower", AtAnchor(anchor="x")).but(hole="a", joins=AtHole(plate="upper", opening="a"))
    bracket = Bracket(plates=(lower, upper), bolts=(lap,))
    sawn = saw(bracket, "upper", (0.0, 30.0), (0.0, 130.0))
    assert sawn.bolts[0].joins == AtHole(plate="upper b", opening="a")
    assert [p.name for p in sawn.plates] == ["lower", "upper a", "upper b"]
    with pytest.raises(EditRefused, match="bolt 1 joins plates lower and upper b to each other"):
        joined(sawn, "lower", "upper b")
    assert same_in_space(bracket, joined(sawn, "upper b", "upper a"))


def test_names_that_are_taken_are_passed_over() -> None:
    bracket = lonely(rectangle("p", (0, 50), (0, 50), [])).with_plate(
        rectangle("p a", (100, 150), (0, 50), [])
    )
    names = [p.name for p in saw(bracket, "p", (20, -5), (20, 55)).plates]
    assert names == ["p c", "p d", "p a"]


def test_plates_that_do_not_belong_together_are_not_joined() -> None:
    left, right = rectangle("l", (0, 50), (0, 50), []), rectangle("r", (50, 100), (0, 50), [])
    bracket = Bracket(plates=(left, right))
    assert joined(bracket, "l", "r").plates[0].name == "l"
    assert flat_pattern(joined(bracket, "l", "r").plates[0]).area_mm2 == pytest.approx(5000)
    for changed, said in (
        (right.but(material="S355"), "only plates of one sheet"),
        (right.but(thickness_mm=5), "6 mm thick and plate r 5 mm"),
        (right.but(placement=Placement(origin_mm=(0, 0, 1))), "share no straight edge"),
        (right.but(placement=Placement(origin_mm=(0.5, 0, 0))), "share no straight edge"),
        (right.but(placement=Placement(x_axis=(1, 0, 0.1))), "share no straight edge"),
    ):
        with pytest.raises(EditRefused, match=said):
            joined(bracket.with_plate(changed), "l", "r")
    with pytest.raises(EditRefused, match="cannot be joined to itself"):
        joined(bracket, "l", "l")


def test_plates_with_flat_patterns_of_their_own_join_where_they_stand() -> None:
    left = rectangle("l", (0, 50), (0, 50), [])
    hole = Hole(name="h", centre_mm=(10, 20), diameter_mm=8)
    turned = rectangle("r", (0, 30), (0, 50), [hole]).but(
        placement=Placement(origin_mm=(80, 50, 0), x_axis=(-1, 0, 0), y_axis=(0, -1, 0))
    )
    whole = joined(Bracket(plates=(left, turned)), "l", "r").plates[0]
    assert {tuple(np.round(c.at_mm, 9)) for c in whole.outline} == {(0, 0), (80, 0), (80, 50), (0, 50)}
    assert whole.openings[0].centre_mm == pytest.approx((70, 30))


@settings(max_examples=30)
@given(st.floats(-90, 90), st.floats(-70, 170), st.floats(0, 2 * math.pi), st.booleans(), st.floats(0, 1))
def test_saw_then_joined_is_the_same_plate(
    x: float, y: float, way: float, folded: bool, shift: float
) -> None:
    bracket = FOLDED if folded else one_piece()
    plate = bracket.plates[0]
    plate = plate.but(outline=tuple(c.but(radius_mm=25.0 * shift) for c in plate.outline))
    bracket = bracket.but(plates=(plate,))
    dx, dy = 400 * math.cos(way), 400 * math.sin(way)
    try:
        sawn = saw(bracket, "plate", (x - dx, y - dy), (x + dx, y + dy))
    except EditRefused:
        return
    assert same_in_space(bracket, sawn)
    before = flat_pattern(plate)
    pieces = [flat_pattern(p) for p in sawn.plates]
    assert math.fsum(p.area_mm2 for p in pieces) == pytest.approx(before.area_mm2, abs=1e-6)
    assert pieces[0].polygon.intersection(pieces[1].polygon).area < 0.2  # chords of cut arcs
    again = joined(sawn, *(p.name for p in sawn.plates))
    after = flat_pattern(again.plates[0])
    assert after.area_mm2 == pytest.approx(before.area_mm2, abs=1e-6)
    assert after.cut_length_mm == pytest.approx(before.cut_length_mm, abs=1e-6)
    assert edges_of(after) == edges_of(before)
    assert same_in_space(bracket, again)
    assert [p.name for p in again.plates] == ["plate"]
