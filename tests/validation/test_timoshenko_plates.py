"""Rectangular and circular plates under pressure: Timoshenko and Woinowsky-Krieger."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.plate import Corner, Plate
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh
from solver.solid import ElasticMaterial, Pressure, SolidAnswer, Support, solve_solid
from tests.validation.reference import agrees
from tests.validation.solid_blocks import block, nodes_where, vertex_near

STEEL = ElasticMaterial(210_000.0, 0.3)
PLATES = (
    "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells; Roark's Formulas, table 11.4 (published)"
)
THICK = "thick plate, w_thin (1 + 5.2 (t/a)2) (own calculation)"
CIRCLES = "Timoshenko and Woinowsky-Krieger, circular plates (from memory, to be verified)"
SIDE_MM = 100.0
PRESSURE_MPA = 0.1


def rigidity(thickness: float) -> float:
    return STEEL.elastic_modulus_mpa * thickness**3 / (12.0 * (1.0 - STEEL.poisson**2))


def quarter(ratio: float, thickness: float, layers: int) -> SolidMesh:
    """Return a quarter of a plate, its middle at the origin; x runs along the short side."""
    cells = 10
    return block(
        (SIDE_MM / 2, ratio * SIDE_MM / 2, thickness), (cells, round(cells * min(ratio, 3.0)), layers)
    )


def solved(ratio: float, thickness: float, edge: str, layers: int = 1) -> SolidAnswer:
    mesh = quarter(ratio, thickness, layers)
    x_edge = nodes_where(mesh, lambda p: p[:, 0] > SIDE_MM / 2 - 1e-6)
    y_edge = nodes_where(mesh, lambda p: p[:, 1] > ratio * SIDE_MM / 2 - 1e-6)
    supports = [
        Support(nodes_where(mesh, lambda p: p[:, 0] < 1e-6), x=0.0),
        Support(nodes_where(mesh, lambda p: p[:, 1] < 1e-6), y=0.0),
    ]
    if edge == "clamped":
        supports += [Support(x_edge, 0.0, 0.0, 0.0), Support(y_edge, 0.0, 0.0, 0.0)]
    else:
        # An edge that neither sinks nor slides along itself: the hard simple support of plate theory.
        supports += [Support(x_edge, y=0.0, z=0.0), Support(y_edge, x=0.0, z=0.0)]
    return solve_solid(mesh, STEEL, supports, [Pressure(mesh.patches["z1"], PRESSURE_MPA)])


def sag(answer: SolidAnswer, thickness: float) -> float:
    middle = [vertex_near(answer.mesh, (0, 0, z)) for z in (0.0, thickness)]
    return float(-answer.displacement_mm[middle, 2].mean())


@pytest.mark.parametrize(
    ("ratio", "edge", "coefficient"),
    [
        (1, "simply supported", 0.004062),
        (2, "simply supported", 0.010129),
        (5, "simply supported", 0.012971),
        (1, "clamped", 0.001265),
        (2, "clamped", 0.002533),
        (5, "clamped", 0.002604),
    ],
)
def test_thin_plate_sags(ratio: int, edge: str, coefficient: float) -> None:
    """t/a 1/40; 2 %: shear adds 0.3 to 1 %, and a clamped edge in the solid is held through its thickness."""
    thickness = SIDE_MM / 40
    answer = solved(ratio, thickness, edge)
    found = sag(answer, thickness) * rigidity(thickness) / (PRESSURE_MPA * SIDE_MM**4)
    agrees(found, coefficient, 0.02, source=PLATES, name=f"{edge} {ratio}:1, w D / q a4")


@pytest.mark.parametrize(("ratio", "coefficient"), [(1, 0.04789), (2, 0.10168), (5, 0.12462)])
def test_moment_in_the_middle(ratio: int, coefficient: float) -> None:
    """Bending stress halfway between the faces' readings; 2 %."""
    thickness = SIDE_MM / 40
    answer = solved(ratio, thickness, "simply supported")
    faces = np.array([vertex_near(answer.mesh, (0, 0, z)) for z in (0.0, thickness)])
    bottom, top = answer.stress_at(faces)[:, 0]
    moment = 0.5 * (bottom - top) * thickness**2 / 6.0
    found = float(moment) / (PRESSURE_MPA * SIDE_MM**2)
    agrees(found, coefficient, 0.02, source=PLATES, name=f"simply supported {ratio}:1, M / q a2")


@pytest.mark.parametrize(("ratio", "coefficient"), [(1, 0.0513), (2, 0.0829), (5, 0.0833)])
def test_moment_at_the_clamped_edge(ratio: int, coefficient: float) -> None:
    """Moment of the reactions on the innermost cells of the long edge, over their length; 3 %."""
    thickness = SIDE_MM / 40
    answer = solved(ratio, thickness, "clamped")
    x, y, z = answer.mesh.points.T
    edge = x > SIDE_MM / 2 - 1e-6
    rows = np.unique(np.round(y[edge], 6))
    reach = rows[4]
    moments = answer.reactions_n[:, 0] * (z - thickness / 2)
    # The last row belongs half to the next cell.
    total = moments[edge & (y < reach - 1e-6)].sum() + 0.5 * moments[edge & (np.abs(y - reach) < 1e-6)].sum()
    found = abs(float(total)) / reach / (PRESSURE_MPA * SIDE_MM**2)
    agrees(found, coefficient, 0.03, source=PLATES, name=f"clamped {ratio}:1, edge moment / q a2")


@pytest.mark.parametrize(("share", "tolerance"), [(0.1, 0.01), (0.2, 0.03)])
def test_thick_square_plate(share: float, tolerance: float) -> None:
    """Simply supported, four layers so that shear can vary through the thickness; middle surface.

    The formula leaves out that the plate is squeezed; the solid settles 0.6 % and 2.1 % below it.
    """
    thickness = share * SIDE_MM
    answer = solved(1, thickness, "simply supported", layers=4)
    middle = vertex_near(answer.mesh, (0, 0, thickness / 2))
    sunk = -float(answer.displacement_mm[middle, 2])
    found = sunk * rigidity(thickness) / (PRESSURE_MPA * SIDE_MM**4)
    agrees(found, 0.004062 * (1 + 5.2 * share**2), tolerance, source=THICK, name=f"t/a {share:g}, w D / q a4")


@pytest.mark.parametrize("edge", ["clamped", "simply supported"])
def test_circular_plate(edge: str) -> None:
    """Through the program's own flat pattern and mesh; 2 %."""
    radius, thickness = 100.0, 4.0
    outline = (
        Corner(at_mm=(radius, 0.0), arc_via_mm=(0.0, radius)),
        Corner(at_mm=(-radius, 0.0), arc_via_mm=(0.0, -radius)),
    )
    disc = Plate(name="disc", material="S275", thickness_mm=thickness, outline=outline)
    mesh = mesh_plate(disc, (), 11.0)
    rim = np.unique(mesh.patches["edge"])
    centre, beside = vertex_near(mesh, (0, 0, 0)), vertex_near(mesh, (30, 0, 0))
    if edge == "clamped":
        supports = [Support(rim, 0.0, 0.0, 0.0)]
        published = PRESSURE_MPA * radius**4 / (64 * rigidity(thickness))
    else:
        supports = [Support(rim, z=0.0), Support(np.array([centre]), x=0.0, y=0.0)]
        supports.append(Support(np.array([beside]), y=0.0))
        shape = (5 + STEEL.poisson) / (1 + STEEL.poisson)
        published = PRESSURE_MPA * radius**4 * shape / (64 * rigidity(thickness))
    answer = solve_solid(mesh, STEEL, supports, [Pressure(mesh.patches["front"], PRESSURE_MPA)])
    found = float(-answer.displacement_mm[centre, 2])
    agrees(found, published, 0.02, source=CIRCLES, name=f"{edge} disc, middle sinks, mm")
