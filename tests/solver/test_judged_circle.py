"""The circle stress is judged on is a mesh line, and the band round the largest stress there is honest.

A plate bent across its footprints. From each of four first meshes the refined answer with its band must hold
what a mesh of three layers says, and be narrow enough to decide by; without the circle it is not.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.footprint import JUDGED_BEYOND, Footprint
from geometry.loads import ExtraCase, Loads, StatedCouple
from geometry.mesh_refining import refine
from geometry.placing import BoltPlace, footprints_of, place_bolts
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh
from solver import mesh_stage
from solver.evaluation import loaded
from solver.mesh_stage import RATIO, MeshedPlate, finer_mesh, marked_elements, meshed_plate
from solver.stages import BAND_FACTOR, LEAST_BAND
from solver.verdict import WIDE_BAND
from tests.brackets import bolt_group, rectangle, solved_on

FIRST_MESHES_MM = (24.0, 16.0, 12.0, 9.0)


def bent() -> Bracket:
    """5 mm, pulled 400 N out of its plane at two bosses, held by two anchors 60 mm away."""
    extra = ExtraCase(name="pull", force_n=(0, 0, 400), at_mm=(8, 0, 0))
    bracket = bolt_group(
        [(-22.0, 60.0), (22.0, 60.0)],
        size="M8",
        hole_mm=9.0,
        pad_mm=20.0,
        thickness_mm=5.0,
        casing_places_mm=[(-22.0, 0.0), (22.0, 0.0)],
        loads=Loads(couple=StatedCouple(couple_nm=1), pull_n=0, weight_g=0, extra=(extra,)),
    )
    (plate,) = bracket.plates
    small = rectangle("plate", (-40, 40), (-18, 78), plate.openings, 5.0, "weightless steel")
    return bracket.but(plates=(small,))


BENT = bent()
PLACES = place_bolts(BENT)


def condensed(mesh: SolidMesh) -> MeshedPlate:
    return meshed_plate(BENT, 0, mesh, PLACES)


def largest(plate: MeshedPlate) -> tuple[float, np.ndarray]:
    """Largest judged stress under the pull, MPa, and the amounts of modes that give it."""
    whole = solved_on(BENT, (plate,))
    load = loaded(whole.states, whole.cases, 0.0)
    pulled = [i for i, c in enumerate(load.columns) if c.case.name.startswith("pull") and c.taken == "stuck"]
    amounts = load.amounts[0][:, pulled]
    return float(plate.survey.von_mises(amounts).max()), amounts


def refined_with_band(size_mm: float) -> tuple[float, float]:
    """Refined answer and its band, as an analysis has them."""
    first = condensed(mesh_plate(BENT.plates[0], mesh_stage.footprints_of(PLACES, "plate"), size_mm))
    coarse, amounts = largest(first)
    fine, _ = largest(condensed(finer_mesh(first, PLACES, marked_elements(first, amounts))))
    return fine, max(LEAST_BAND, BAND_FACTOR * abs(fine - coarse) / fine / (RATIO - 1.0))


@pytest.fixture(scope="module")
def three_layers() -> float:
    """The answer of three layers, finer by half round the anchors' footprints."""
    footprints = footprints_of(PLACES, "plate")
    mesh = mesh_plate(BENT.plates[0], footprints, 20.0, layers=3)
    middles = mesh.flat_points[mesh.flat_triangles[:, :3]].mean(axis=1)[:, :2]
    marked = np.zeros(len(middles), dtype=bool)
    for place in PLACES:
        if place.partner == "anchor":
            marked |= np.hypot(*(middles - np.asarray(place.flat_mm)).T) < place.spread_mm + 4.0
    return largest(condensed(refine(mesh, BENT.plates[0], footprints, marked, 1.5)))[0]


@pytest.fixture
def no_circle(monkeypatch: pytest.MonkeyPatch) -> None:
    """Footprints without their judged circles: stress is still judged outside them."""

    def bare(places: Iterable[BoltPlace], plate: str) -> tuple[Footprint, ...]:
        return tuple(replace(f, judged_beyond=()) for f in footprints_of(places, plate))

    monkeypatch.setattr(mesh_stage, "footprints_of", bare)


def holds(size_mm: float, right: float) -> bool:
    """Whether the band holds the right answer and is narrow enough to decide by."""
    fine, band = refined_with_band(size_mm)
    return band <= WIDE_BAND and abs(fine - right) <= band * fine


@pytest.mark.parametrize("size_mm", FIRST_MESHES_MM)
def test_each_band_holds_the_answer_of_three_layers(size_mm: float, three_layers: float) -> None:
    assert holds(size_mm, three_layers)


@pytest.mark.usefixtures("no_circle")
def test_without_the_circle_that_fails(three_layers: float) -> None:
    assert not any(holds(size_mm, three_layers) for size_mm in FIRST_MESHES_MM[:2])


@pytest.mark.usefixtures("no_circle")
def test_without_the_circle_the_first_mesh_reads_low(three_layers: float) -> None:
    first = condensed(mesh_plate(BENT.plates[0], mesh_stage.footprints_of(PLACES, "plate"), 16.0))
    assert largest(first)[0] < 0.9 * three_layers


def test_the_circle_is_a_mesh_line_and_stress_is_judged_on_it() -> None:
    plate = condensed(mesh_plate(BENT.plates[0], footprints_of(PLACES, "plate"), 16.0))
    mesh = plate.condensed.mesh
    judged = set(plate.survey.nodes.tolist())
    for place in PLACES:
        radius = place.spread_mm + JUDGED_BEYOND * 5.0
        off = np.hypot(*(mesh.flat_points[:, :2] - np.asarray(place.flat_mm)).T)
        on_it = np.flatnonzero(np.abs(off - radius) < 1e-6)
        vertices = np.intersect1d(on_it, mesh.vertex_nodes)
        assert len(vertices) >= 2 * 16
        assert judged.issuperset(vertices.tolist())
        assert not judged.intersection(np.flatnonzero(off < radius - 1e-3).tolist())
