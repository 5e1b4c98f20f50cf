from __future__ import annotations

import numpy as np
import pytest

from app.mounted.bar_shapes import bar_shapes
from app.mounted.bolt_shapes import bolt_shapes
from app.mounted.surroundings import surroundings
from geometry.fixing import BarEnd
from geometry.placing import place_bolts
from tests.app.mounted.solved_example import bracket, results

BRACKET = bracket()
PLACES = place_bolts(BRACKET)


def test_every_bolt_stands_where_its_place_is() -> None:
    shapes = bolt_shapes(BRACKET, PLACES)
    for place in PLACES:
        points = np.concatenate([s.points for s in shapes.surfaces if s.name == place.bolt])
        along = (points - place.mating_mm) @ place.axis
        aside = points - place.mating_mm - along[:, None] * place.axis
        # All of it lies beyond the washer face, its middle on the bolt's line.
        assert along.max() == pytest.approx(-place.thickness_mm)
        assert np.linalg.norm(aside.mean(axis=0)) < 0.5
        (mark,) = [m for m in shapes.marks if m.name == place.bolt]
        assert mark.words == place.bolt
        off = mark.at_mm - place.mating_mm
        assert np.linalg.norm(np.cross(off, place.axis)) == pytest.approx(0.0, abs=1e-9)


def test_the_casing_is_its_envelope_and_an_adjacent_part() -> None:
    shapes = surroundings(BRACKET, PLACES)
    assert BRACKET.casing is not None
    (block,) = [s for s in shapes.surfaces if s.kind == "casing"]
    assert block.points.min(axis=0) == pytest.approx(BRACKET.casing.envelope.low_mm)
    assert block.points.max(axis=0) == pytest.approx(BRACKET.casing.envelope.high_mm)
    (outline,) = [line for line in shapes.lines if line.kind == "casing"]
    assert (outline.pen, len(outline.ends)) == ("adjacent", 12)
    assert {s.name for s in shapes.surfaces if s.kind == "boss"} == {"1", "2", "3"}


def test_the_wheel_stands_at_its_station_with_its_diameter() -> None:
    (wheel,) = [line for line in surroundings(BRACKET, PLACES).lines if line.kind == "wheel"]
    assert BRACKET.wheel is not None
    assert wheel.ends[:, :, 2] == pytest.approx(np.full(wheel.ends.shape[:2], BRACKET.wheel.station_mm))
    radii = np.hypot(wheel.ends[:, :, 0], wheel.ends[:, :, 1])
    assert radii.max() == pytest.approx(BRACKET.wheel.diameter_mm / 2)


def test_a_free_end_of_the_bar_has_no_ground() -> None:
    bar = BRACKET.dash_bar
    assert bar is not None
    both = [line for line in bar_shapes(bar).lines if line.pen == "ground"]
    one = bar_shapes(bar.but(ends=(bar.ends[0], BarEnd(kind="free"))))
    (ground,) = [line for line in one.lines if line.pen == "ground"]
    assert len(both) == 2
    assert ground.ends[:, :, 0].max() < 0.0


def test_the_bar_is_drawn_bent_as_it_was_solved() -> None:
    bar = BRACKET.dash_bar
    assert bar is not None
    case = max(results().cases, key=lambda c: c.movement_mm)
    (solid,) = bar_shapes(bar, case).surfaces
    assert solid.moved is not None
    stations = solid.points[:, 0] - bar.from_mm[0]
    at_ends = (stations < 1e-6) | (stations > 1200.0 - 1e-6)
    assert np.abs(solid.moved[at_ends]).max() < 1e-12
    for station, motion in zip(case.bar_stations_mm, case.bar_motions, strict=True):
        near = np.abs(stations - station) < 16.0
        middle = solid.moved[near].mean(axis=0)
        assert middle == pytest.approx(motion[:3], abs=0.1 * np.abs(case.bar_motions[:, :3]).max())
