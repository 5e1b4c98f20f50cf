"""Round a sharp inside corner finer meshes read ever more stress: it is judged beyond half the thickness."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from geometry.loads import Loads, StatedCouple
from geometry.plate import Corner
from solver.checking import check_all
from solver.holds_to import holds_to
from solver.plate_checks import of_its_kind
from solver.results import Check
from solver.solved import Solved, with_inputs
from tests.brackets import NO_BEARINGS, one_piece, solved_once

NOTCH = (-55.0, -40.0)
THICKNESS_MM = 6.0


def test_what_is_nearer_to_a_sharp_corner_than_half_the_thickness_is_not_judged() -> None:
    bracket = one_piece(thickness_mm=THICKNESS_MM)
    (plate,) = bracket.plates
    low_left, *others = (corner.at_mm for corner in plate.outline)
    cut = [(low_left[0], NOTCH[1]), NOTCH, (NOTCH[0], low_left[1]), *others]
    notched = bracket.but(plates=(plate.but(outline=tuple(Corner(at_mm=at) for at in cut)),))
    survey = solved_once(notched, 20.0).surveys[0]
    (corner,) = survey.corners
    assert corner.flat_mm == NOTCH
    mesh = survey.plate.mesh
    away = np.hypot(*(mesh.flat_points[mesh.vertex_nodes, :2] - np.array(NOTCH)).T)
    judged = np.hypot(*(mesh.flat_points[survey.nodes, :2] - np.array(NOTCH)).T)
    assert away.min() < 1e-6
    assert judged.min() >= 0.5 * THICKNESS_MM - 1e-3
    assert (judged[corner.rows] <= THICKNESS_MM).all()
    assert len(corner.rows) == np.sum(judged <= THICKNESS_MM) > 0


SLIT = ((-75.0, 75.0), (-20.0, 75.0), (-20.0, 60.0), (-75.0, 60.0))
"""From the left edge under the bolts of the dash bar: its corners are sharp."""


@pytest.fixture(scope="module")
def slit() -> Solved:
    bracket = one_piece(thickness_mm=THICKNESS_MM, column=NO_BEARINGS)
    (plate,) = bracket.plates
    left, right, top, over = (corner.at_mm for corner in plate.outline)
    outline = tuple(Corner(at_mm=at) for at in (left, right, top, over, *SLIT))
    bolts = tuple(b.but(face_friction=0.5) for b in bracket.bolts)
    return solved_once(bracket.but(plates=(plate.but(outline=outline),), bolts=bolts), 20.0)


def corner_at(slit: Solved, couple_nm: float, pull_n: float) -> tuple[Solved, Check]:
    loads = Loads(couple=StatedCouple(couple_nm=couple_nm), pull_n=pull_n)
    whole = with_inputs(slit, slit.bracket.but(loads=loads))
    (corner,) = (c for c in check_all(whole, couple_nm).checks if c.name.startswith("inside corner"))
    return whole, corner


def test_a_corner_that_only_the_factor_takes_too_far_is_marginal_at_its_bands_upper_end(slit: Solved) -> None:
    whole, corner = corner_at(slit, 90.0, 42.0)
    assert corner.without_factor is not None
    bare = corner.without_factor / corner.allowable
    assert 0.9 < bare < 1.0 < corner.used
    assert corner.kind == "share"
    assert "only without the factor" in corner.note
    banded = of_its_kind(replace(corner, band=0.12))
    assert banded.kind == "strength"
    assert banded.note == "no radius here"
    # It is marginal as far as the couple that it is said to hold to, and no farther.
    held, ended_by = holds_to(whole, {corner.name: 0.12})
    assert "sharp inside corner" in ended_by
    assert held < 90.0


def test_a_corner_whose_band_alone_reaches_the_allowable_is_no_worse_than_one_that_is_there(
    slit: Solved,
) -> None:
    _, corner = corner_at(slit, 90.0, 31.0)
    assert corner.used < 1.0 < corner.used * 1.2
    assert of_its_kind(replace(corner, band=0.2)).kind == "share"


def test_a_corner_without_the_factor_has_the_couple_as_its_source_leaves_it(slit: Solved) -> None:
    _, stated = corner_at(slit, 90.0, 42.0)
    loads = Loads(couple=StatedCouple(couple_nm=90.0), pull_n=42.0, couple_uncertainty=0.0)
    sure = with_inputs(slit, slit.bracket.but(loads=loads))
    (corner,) = (c for c in check_all(sure, 90.0).checks if c.name.startswith("inside corner"))
    assert corner.without_factor is not None
    assert stated.without_factor is not None
    assert corner.demand == pytest.approx(stated.demand)
    assert corner.without_factor < stated.without_factor


def test_a_factor_smaller_than_the_doubt_about_the_couple_counts_it_once(slit: Solved) -> None:
    """The rest of the doubt is in the band: what passes must not hold to less than it passes for."""
    loads = Loads(couple=StatedCouple(couple_nm=90.0), pull_n=20.0, factor=1.0)
    whole = with_inputs(slit, slit.bracket.but(loads=loads))
    (corner,) = (c for c in check_all(whole, 90.0).checks if c.name.startswith("inside corner"))
    assert corner.without_factor == pytest.approx(corner.demand)
