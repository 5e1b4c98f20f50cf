"""The net section beside a bolt, on stress fields that are known."""

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.casing import Column
from geometry.fixing import Anchor, AtAnchor
from geometry.placing import footprints_of, place_bolts
from geometry.plate import FoldLine, Hole, Placement
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh
from solver.net_section import NetSection, net_sections
from tests.brackets import WORD, bolt, boss, casing, rectangle

THICKNESS = 6.0
HOLE_X = 10.0
"""The hole stands this far from the middle of a strip 60 wide: its nearest edge is at x = 30."""


def strip(hole_mm: tuple[float, float] = (HOLE_X, 0.0), **placement: object) -> Bracket:
    plate = rectangle(
        "strip",
        (-30, 30),
        (-80, 80),
        [Hole(name="a", centre_mm=hole_mm, diameter_mm=9)],
        THICKNESS,
        placement=Placement.model_validate(placement),
    )
    return Bracket(
        plates=(plate,),
        casing=casing([boss("1", (0, 0, 0))]),
        column=Column(held_by="nothing"),
        bolts=(bolt("a", "strip", AtAnchor(anchor="a")),),
        anchors=(Anchor(name="a", word=WORD),),
    )


def section_of(bracket: Bracket, stress, layers: int = 1) -> NetSection:  # noqa: ANN001
    """The section to the nearest edge under a stress field."""
    return sections_of(bracket, stress, layers)[0]


def sections_of(bracket: Bracket, stress, layers: int = 1) -> tuple[NetSection, ...]:  # noqa: ANN001
    """The sections, that to the nearest edge first.

    The stress field is a function from flat places (n, 3) to (n, 6), in the plate's axes.
    """
    places = place_bolts(bracket)
    mesh: SolidMesh = mesh_plate(bracket.plates[0], footprints_of(places, "strip"), layers=layers)
    values = stress(mesh.flat_points[mesh.vertex_nodes])
    frame = places[0].frame
    return net_sections(0, bracket.plates[0], mesh, places, turned(values, frame)[:, :, None])


def turned(values: np.ndarray, frame: np.ndarray) -> np.ndarray:
    """Stress given in the plate's axes, told in space."""
    xx, yy, zz, yz, xz, xy = values.T
    matrix = np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]]).transpose(2, 0, 1)
    turned = frame @ matrix @ frame.T
    return np.stack([turned[:, i, j] for i, j in ((0, 0), (1, 1), (2, 2), (1, 2), (0, 2), (0, 1))], axis=1)


def field(yy: np.ndarray, xy: np.ndarray | float = 0.0, xx: float = 0.0) -> np.ndarray:
    values = np.zeros((len(yy), 6))
    values[:, 0], values[:, 1], values[:, 5] = xx, yy, xy
    return values


@pytest.mark.parametrize("layers", [1, 2, 3])
@pytest.mark.parametrize(
    "placement",
    [{}, {"x_axis": (0, 0, 1), "y_axis": (0, 1, 0)}, {"x_axis": (1, 2, 0), "y_axis": (0.5, 1, 3)}],
)
def test_mean_slopes_and_shear_of_a_straight_field(layers: int, placement: dict[str, object]) -> None:
    """The section runs from the hole's rim at x = 14.5 to the edge at x = 30, square to y."""
    middle, half = (HOLE_X + 4.5 + 30) / 2.0, (30 - HOLE_X - 4.5) / 2.0

    def stress(at: np.ndarray) -> np.ndarray:
        across = (at[:, 0] - middle) / half
        through = at[:, 2] / (THICKNESS / 2.0) - 1.0
        # Stress along the section itself and constant there must not enter.
        return field(40.0 + 25.0 * across + 60.0 * through, 12.0, 500.0)

    section = section_of(strip(**placement), stress, layers)
    mean, across, through, shear = section.parts[:, 0]
    assert section.width_mm == pytest.approx(30 - HOLE_X - 4.5, abs=1e-6)
    # Vertices near the rim stand off the straight line only by the mesh's own reading.
    assert abs(mean) == pytest.approx(40.0, abs=0.3)
    assert abs(across) == pytest.approx(25.0, abs=0.5)
    assert abs(through) == pytest.approx(60.0, abs=0.3)
    assert abs(shear) == pytest.approx(12.0, abs=0.1)
    assert section.stress_mpa(np.ones((1, 1)))[0] == pytest.approx(np.sqrt(125.0**2 + 3 * 12.0**2), rel=0.01)


def test_bending_through_the_thickness_that_is_not_straight() -> None:
    """Of a cubic only its moment counts: the straight line that carries it, 3 / 5 of the peak.

    Three layers see it best; what is left is Simpson's own error, the same with and without it.
    """

    def stress(at: np.ndarray) -> np.ndarray:
        return field(100.0 * (at[:, 2] / (THICKNESS / 2.0) - 1.0) ** 3)

    section = section_of(strip(), stress, layers=4)
    assert abs(section.parts[2, 0]) == pytest.approx(60.0, rel=0.05)
    assert abs(section.parts[0, 0]) < 0.5


@pytest.mark.parametrize("layers", [2, 4])
def test_a_stress_curved_through_the_thickness_has_its_own_mean(layers: int) -> None:
    """Of a parabola a third of its peak: Simpson's rule is exact for it."""
    section = section_of(strip(), lambda at: field(100.0 * (at[:, 2] / (THICKNESS / 2.0) - 1.0) ** 2), layers)
    assert abs(section.parts[0, 0]) == pytest.approx(100.0 / 3.0, rel=1e-6)


def test_a_section_from_two_layers_into_one_reads_a_straight_field_alike() -> None:
    """A folded strip has two layers beside its footprint; where it has one, stress is straight across it."""
    fold = FoldLine(name="f", from_mm=(-30, 55), to_mm=(30, 55), inside_radius_mm=6)
    flat = strip((0.0, 0.0))
    bracket = flat.with_plate(flat.plates[0].but(folds=(fold,)))
    places = place_bolts(bracket)
    mesh = mesh_plate(bracket.plates[0], footprints_of(places, "strip"), double_bends=True)
    at = mesh.flat_points[mesh.vertex_nodes]
    middle = np.abs(at[:, 2] - THICKNESS / 2.0) < 1e-6
    assert 0 < middle.sum() < 0.9 * (at[:, 2] == 0.0).sum()
    values = field(40.0 + 60.0 * (at[:, 2] / (THICKNESS / 2.0) - 1.0), 12.0)
    stress = turned(values, places[0].frame)[:, :, None]
    found = net_sections(0, bracket.plates[0], mesh, places, stress)
    sides = [section for section in found if section.width_mm == pytest.approx(25.5)]
    assert len(sides) == 2
    for section in sides:
        mean, across, through, shear = np.abs(section.parts[:, 0])
        assert (mean, through, shear) == pytest.approx((40.0, 60.0, 12.0), rel=1e-6)
        assert across == pytest.approx(0.0, abs=1e-6)


def test_amounts_are_signed_and_scale() -> None:
    section = section_of(strip(), lambda at: field(np.full(len(at), 10.0)))
    assert section.stress_mpa(np.array([[2.0, -3.0]])) == pytest.approx([20.0, 30.0], rel=1e-6)
    assert section.bolt == "a"
    assert "nearest edge" in section.words


def test_a_strap_pulled_past_a_hole_near_its_end_is_judged_beside_the_hole() -> None:
    """The nearest edge is the strap's end, and a section to it carries nothing of a pull along the strap.

    EN 1993-1-1 6.2.2.2: the net section lies across the pull. With the nearest edge alone nothing was judged.
    """
    pulled = sections_of(strip((0.0, 68.0)), lambda at: field(np.full(len(at), 100.0)))
    assert pulled[0].width_mm == pytest.approx(12.0 - 4.5)
    assert pulled[0].stress_mpa(np.ones((1, 1)))[0] == pytest.approx(0.0, abs=1e-6)
    beside = [s for s in pulled if s.width_mm == pytest.approx(30.0 - 4.5)]
    assert len(beside) == 2
    for section in beside:
        assert section.stress_mpa(np.ones((1, 1)))[0] == pytest.approx(100.0, rel=1e-6)


def test_edges_far_beyond_the_nearest_are_left_out() -> None:
    widths = [s.width_mm for s in sections_of(strip((20.0, 0.0)), lambda at: field(np.zeros(len(at))))]
    assert widths == [pytest.approx(10.0 - 4.5)]


def test_in_the_middle_of_a_strap_both_sides_are_judged() -> None:
    bent = sections_of(strip((0.0, 0.0)), lambda at: field(np.where(at[:, 0] > 0.0, 100.0, 0.0)))
    sides = [s for s in bent if s.width_mm == pytest.approx(25.5)]
    assert len(sides) == 2
    assert sorted(s.stress_mpa(np.ones((1, 1)))[0] > 90.0 for s in sides) == [False, True]
