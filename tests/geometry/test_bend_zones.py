"""Cutting a flat pattern into panels by its bend zones, and folds that cannot be made."""

from __future__ import annotations

import math

import pytest

from geometry.bend_zones import FoldedPattern, folded_pattern
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import Flat, ShapeError
from geometry.plate import Corner, CutOut, FoldLine, Hole, Opening, Plate


def fold(name: str, begin: Flat, end: Flat, **changes: object) -> FoldLine:
    return FoldLine(name=name, from_mm=begin, to_mm=end, inside_radius_mm=3).but(**changes)


def plate(places: tuple[Flat, ...], folds: tuple[FoldLine, ...], openings: tuple[Opening, ...] = ()) -> Plate:
    outline = tuple(Corner(at_mm=at) for at in places)
    return Plate(name="foot", material=None, thickness_mm=3, outline=outline, openings=openings, folds=folds)


def cut(made: Plate) -> FoldedPattern:
    return folded_pattern(made, flat_pattern(made))


STRIP = ((0.0, 0.0), (50.0, 0.0), (50.0, 120.0), (0.0, 120.0))
ACROSS = fold("one", (-5, 60), (55, 60))


def test_width_of_a_bend_zone() -> None:
    # DIN 6935 (published): 90 deg, r 3, s 3 has v = 5.756, and v = 2 (r + s) - zone width.
    zone = cut(plate(STRIP, (ACROSS,))).zones[0]
    assert zone.width_mm == pytest.approx(12 - 5.756, abs=5e-4)
    assert zone.strips == 6
    assert zone.sections[0] == pytest.approx((-25, 25))


def test_panels_and_zone_share_out_the_plate() -> None:
    folded = cut(plate(STRIP, (ACROSS,)))
    assert len(folded.panels) == 2
    assert sum(panel.area for panel in folded.panels) + folded.zones[0].polygon.area == pytest.approx(6000)
    assert folded.panel_number((25, 10)) != folded.panel_number((25, 110))
    assert folded.panel_number((25, 60)) is None


def test_a_line_drawn_short_is_carried_to_the_edges() -> None:
    zone = cut(plate(STRIP, (fold("one", (20, 60), (30, 60)),))).zones[0]
    assert zone.polygon.area == pytest.approx(50 * zone.width_mm)


@pytest.mark.parametrize(("angle", "strips"), [(10, 1), (15, 1), (16, 2), (90, 6), (135, 9)])
def test_strips_turn_by_15_deg_or_less(angle: float, strips: int) -> None:
    folded = cut(plate(STRIP, (ACROSS.but(angle_deg=angle),)))
    lines = folded.strip_lines(folded.zones[0])
    assert len(lines) == strips + 1
    assert all(line.length_mm == pytest.approx(50) for line in lines)


def test_only_the_tab_the_line_is_drawn_on_folds() -> None:
    # Two tabs on one edge, with relief notches beside them; the fold is drawn on the right one alone.
    tabs = (
        (0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (90.0, 40.0), (90.0, 70.0), (60.0, 70.0), (60.0, 40.0),
        (40.0, 40.0), (40.0, 70.0), (10.0, 70.0), (10.0, 40.0), (0.0, 40.0),
    )  # fmt: skip
    folded = cut(plate(tabs, (fold("right", (60, 50), (90, 50)),)))
    assert len(folded.panels) == 2
    assert folded.panel_number((25, 65)) == folded.panel_number((25, 10))
    assert folded.panel_number((75, 65)) != folded.panel_number((75, 10))


def test_an_opening_may_cut_a_bend_right_through() -> None:
    places = ((20, 50), (30, 50), (30, 70), (20, 70))
    window = CutOut(name="w", corners=tuple(Corner(at_mm=at) for at in places))
    folded = cut(plate(STRIP, (ACROSS,), (window,)))
    assert len(folded.panels) == 2
    assert len(folded.zones) == 1
    assert len(folded.zones[0].sections) == 2


def test_a_tray_is_a_tree_of_five_panels() -> None:
    folded = cut(tray())
    assert len(folded.panels) == 5
    assert len(folded.zones) == 4


def tray() -> Plate:
    a, b, h, n = 100.0, 60.0, 20.0, 4.0
    places = (
        (n, -h), (a - n, -h), (a - n, 0.0), (a, 0.0), (a, n),
        (a + h, n), (a + h, b - n), (a, b - n), (a, b), (a - n, b),
        (a - n, b + h), (n, b + h), (n, b), (0.0, b), (0.0, b - n),
        (-h, b - n), (-h, n), (0.0, n), (0.0, 0.0), (n, 0.0),
    )  # fmt: skip
    off = 3.5
    return plate(
        places,
        (
            fold("south", (n, -off), (a - n, -off)),
            fold("north", (n, b + off), (a - n, b + off)),
            fold("east", (a + off, n), (a + off, b - n)),
            fold("west", (-off, n), (-off, b - n)),
        ),
    )


FRAME = CutOut(name="w", corners=tuple(Corner(at_mm=at) for at in ((10, 20), (40, 20), (40, 100), (10, 100))))
WIDE = (
    (0.0, 0.0),
    (100.0, 0.0),
    (100.0, 40.0),
    (60.0, 40.0),
    (60.0, 80.0),
    (40.0, 80.0),
    (40.0, 40.0),
    (0.0, 40.0),
)
BROKEN = [
    ("fold_off_plate", plate(STRIP, (fold("one", (60, 60), (90, 60)),))),
    ("fold_no_length", plate(STRIP, (fold("one", (25, 60), (25, 60)),))),
    ("fold_radius", plate(STRIP, (ACROSS.but(inside_radius_mm=0.2),))),
    ("fold_at_edge", plate(STRIP, (fold("one", (0, 119), (50, 119)),))),
    ("folds_touch", plate(STRIP, (ACROSS, fold("two", (0, 65), (50, 65))))),
    ("folds_touch", plate(STRIP, (ACROSS, fold("two", (25, 0), (25, 120))))),
    ("fold_hits_opening", plate(STRIP, (ACROSS,), (Hole(name="h", centre_mm=(25, 60), diameter_mm=5),))),
    ("fold_hits_opening", plate(STRIP, (ACROSS,), (Hole(name="h", centre_mm=(25, 64), diameter_mm=5),))),
    ("fold_hits_opening", plate(STRIP, (ACROSS,), (Hole(name="h", centre_mm=(25, 65.63), diameter_mm=5),))),
    ("fold_unclean", plate(WIDE, (fold("one", (40, 40), (60, 40)),))),
    ("folds_in_ring", plate(STRIP, (fold("one", (0, 60), (10, 60)),), (FRAME,))),
]


@pytest.mark.parametrize(("code", "made"), BROKEN)
def test_folds_that_cannot_be_made_are_named(code: str, made: Plate) -> None:
    with pytest.raises(ShapeError) as caught:
        cut(made)
    assert caught.value.code == code
    assert "plate foot" in str(caught.value)
    assert caught.value.next_step


def test_a_relief_must_reach_past_the_tangent_line() -> None:
    half = cut(plate(STRIP, (ACROSS,))).zones[0].width_mm / 2
    tab = (40.0, 60.0)

    def notched(depth: float) -> Plate:
        low = 40.0 - depth
        places = (
            (0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (64.0, 40.0), (64.0, low), (60.0, low), (60.0, 80.0),
            (40.0, 80.0), (40.0, low), (36.0, low), (36.0, 40.0), (0.0, 40.0),
        )  # fmt: skip
        return plate(places, (fold("one", (tab[0], 40), (tab[1], 40)),))

    assert len(cut(notched(math.ceil(100 * half) / 100)).panels) == 2
    with pytest.raises(ShapeError) as caught:
        cut(notched(0.8 * half))
    assert caught.value.code == "fold_unclean"
    assert f"{half:.2f} mm past the fold line" in str(caught.value)
