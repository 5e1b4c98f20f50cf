"""The linkage that is drawn: pins where bolts are, the centre where the casing stays."""

from __future__ import annotations

import numpy as np
import pytest

from app.lesson.linkage_drawing import instant_centre, linkage_drawing, linkage_items
from app.lesson.loosened import casing_motion, motions_of
from app.mounted.camera import Camera
from app.mounted.overlay import Disc, Words
from app.mounted.shapes import CASING, Body, Floats
from app.theme import PAPER
from geometry.casing import Column
from solver.results import FreeMotion
from tests.app.lesson.samples import sample, two_straps
from tests.brackets import one_piece


def test_two_straps_turn_about_the_shaft_that_bearings_hold() -> None:
    bracket = two_straps()
    moving = casing_motion(motions_of(bracket))
    assert moving is not None
    drawing = linkage_drawing(bracket, moving)
    assert drawing.centre_mm is not None
    assert drawing.centre_mm[:2] == pytest.approx([0.0, 0.0], abs=1e-6)
    assert sorted(bar.body for bar in drawing.bars) == [
        ("casing", ""), ("plate", "front strap"), ("plate", "rear strap"),
    ]  # fmt: skip
    by_body = {bar.body: bar.pins_mm for bar in drawing.bars}
    assert len(by_body["plate", "front strap"]) == 2
    # two lug faces and the shaft
    assert len(by_body[CASING]) == 3
    assert len(drawing.ground_mm) == 3
    assert drawing.words == "it turns about the centre"


def test_pins_keep_their_distances_along_the_motion() -> None:
    bracket = two_straps()
    moving = casing_motion(motions_of(bracket))
    assert moving is not None
    for bar in linkage_drawing(bracket, moving).bars:
        body = moving.bodies["casing" if bar.body == CASING else bar.body[1]]
        velocity = body[:3] + np.cross(body[3:], bar.pins_mm)
        along = np.diff(bar.pins_mm, axis=0)
        assert np.einsum("ki,ki->k", along, np.diff(velocity, axis=0)) == pytest.approx(0.0, abs=1e-9)


def test_a_bracket_that_locks_has_no_centre() -> None:
    bracket = one_piece()
    drawing = linkage_drawing(bracket, casing_motion(motions_of(bracket)))
    assert drawing.centre_mm is None
    assert not drawing.moves
    assert drawing.words.startswith("no free motion")


def test_a_shift_has_no_centre_and_a_turn_has_its_own() -> None:
    near = np.array([0.0, 0.0, 7.0])
    racking = FreeMotion("", (), True, {"casing": np.array([1.0, 0, 0, 0, 0, 0])})
    assert instant_centre(racking, near) is None
    turn = np.array([0.0, 0.0, 0.01])
    at = np.array([30.0, -40.0, 0.0])
    turning = FreeMotion("", (), True, {"casing": np.concatenate([-np.cross(turn, at), turn])})
    assert instant_centre(turning, near) == pytest.approx([30.0, -40.0, 7.0])


def test_what_is_drawn_goes_where_the_picture_goes() -> None:
    bracket = two_straps()
    drawing = linkage_drawing(bracket, casing_motion(motions_of(bracket)))

    def moved(points: Floats, body: Body) -> Floats:
        return points + (np.array([5.0, 0.0, 0.0]) if body == CASING else 0.0)

    camera = Camera(azimuth_deg=0.0, elevation_deg=0.0, mm_per_px=1.0)
    items = linkage_items(drawing, camera, PAPER, moved)
    still = linkage_items(drawing, camera, PAPER, lambda points, _: points)
    ways = {
        round(one.x_px - other.x_px, 6)
        for one, other in zip(items, still, strict=True)
        if isinstance(one, Disc) and isinstance(other, Disc)
    }
    assert ways == {0.0, 5.0}
    assert any(isinstance(item, Words) and item.words == "centre" for item in items)


def test_loosening_and_taking_out_by_name() -> None:
    bracket = two_straps()
    names = {bolt.name for bolt in bracket.bolts}
    assert not motions_of(bracket, loose=())
    assert not motions_of(bracket, loose={"1"})
    assert casing_motion(motions_of(bracket, loose=names)) is not None
    assert casing_motion(motions_of(bracket)) is not None
    # both bolts at the casing out: nothing but the bearings holds it
    on_casing = [bolt.name for bolt in bracket.bolts if bolt.joins.to == "boss"]
    assert casing_motion(motions_of(bracket, loose=(), out=on_casing)) is not None
    assert motions_of(bracket, loose=(), out=names)


def test_one_strap_still_clamped_at_both_ends_holds_the_casing() -> None:
    bracket = two_straps(held=False)
    rear = [bolt.name for bolt in bracket.bolts if bolt.plate == "rear strap"]
    assert casing_motion(motions_of(bracket, loose=rear)) is None
    assert casing_motion(motions_of(bracket)) is not None


def test_nothing_to_move_without_casing_or_bolts() -> None:
    bracket = sample("marlpit_two_straps")
    assert motions_of(bracket.but(casing=None, bolts=(), column=Column())) == ()
    assert motions_of(bracket.but(bolts=())) == ()
