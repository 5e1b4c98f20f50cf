"""The dash bar against closed forms of beam theory.

Timoshenko and Gere, Mechanics of Materials, tables of beam deflections; Young and Budynas, Roark's Formulas
for Stress and Strain, tables of beams with concentrated loads and couples (from memory, to be verified). All
of them can be had again from M'' and equilibrium. The bar is long and slender, so that Euler's beam is meant;
what shear adds is a comparison of its own.
"""

import numpy as np
import pytest

from geometry.fixing import BarEnd, DashBar, RectangularTube, RoundTube
from solver.bar_sections import section_of
from solver.dash_bar import BarModel, bar_model, bar_stress_mpa
from tests.validation.reference import agrees

BEAM = "beam theory, Timoshenko and Gere (from memory, to be verified)"
E, NU = 210_000.0, 0.3
G = E / (2.0 * (1.0 + NU))
LENGTH = 1_200.0
TUBE = RoundTube(outer_mm=38, wall_mm=3)
SECOND = np.pi / 64.0 * (38.0**4 - 32.0**4)
AREA = np.pi / 4.0 * (38.0**2 - 32.0**2)
SLENDER = 0.02
"""Shear adds about a hundredth to the deflection of the clamped bar; the others less."""


def bar(first: str, last: str, section: RoundTube | RectangularTube = TUBE, **end: object) -> DashBar:
    ends = [BarEnd.model_validate({"kind": kind, "seen_by": "a test"} | end) for kind in (first, last)]
    return DashBar(from_mm=(-600, 0, 0), to_mm=(600, 0, 0), section=section, ends=(ends[0], ends[1]))


def under(model: BarModel, station_mm: float, wrench: list[float]) -> tuple[np.ndarray, np.ndarray]:
    """Motion of the node at a station under a wrench there, in X, Y, Z, and the motions of all nodes."""
    way = model.motions[model.node_at(station_mm)]
    unknowns = np.linalg.solve(model.stiffness, way.T @ np.array(wrench))
    return way @ unknowns, np.concatenate([motion @ unknowns for motion in model.motions])[:, None]


def model_of(dash_bar: DashBar, *stations: float, side: str = "low") -> BarModel:
    return bar_model(dash_bar, stations, E, NU, side)  # type: ignore[arg-type]


@pytest.mark.parametrize("share", [0.5, 0.3])
def test_clamped_both_ends_force_anywhere(share: float) -> None:
    """Euler: F a^3 b^3 / (3 E I L^3). With shear, by the force method on a cantilever."""
    a, b = share * LENGTH, (1.0 - share) * LENGTH
    moved, nodes = under(model_of(bar("welded", "welded"), a), a, [0, 1000, 0, 0, 0, 0])
    published = 1000 * a**3 * b**3 / (3 * E * SECOND * LENGTH**3)
    agrees(moved[1], published, 0.04, source=BEAM, name=f"clamped bar, force at {share:g}, Euler, mm")
    deflection, moment = clamped_by_the_force_method(1000, a)
    name = f"clamped bar, force at {share:g}, with shear"
    agrees(moved[1], deflection, 1e-8, source=BEAM, name=f"{name}, mm")
    stress = bar_stress_mpa(model_of(bar("welded", "welded"), a), nodes).max()
    agrees(stress, moment * 19 / SECOND, 0.01, source=BEAM, name=f"{name}, largest stress, MPa")


def clamped_by_the_force_method(force: float, at: float) -> tuple[float, float]:
    """Deflection under the force and largest moment: a cantilever whose far end is brought back."""
    bending, shear, length = E * SECOND, section_of(TUBE).shear_area_2_mm2 * G, LENGTH
    rest = length - at
    # Far end's deflection and slope under the force, an end force and an end moment.
    by_force = force * np.array(
        [at**3 / (3 * bending) + at / shear + rest * at**2 / (2 * bending), at**2 / (2 * bending)]
    )
    flexibility = np.array(
        [
            [length**3 / (3 * bending) + length / shear, length**2 / (2 * bending)],
            [length**2 / (2 * bending), length / bending],
        ]
    )
    end_force, end_moment = -np.linalg.solve(flexibility, by_force)
    under_it = force * (at**3 / (3 * bending) + at / shear)
    under_it += end_force * (at**2 * (3 * length - at) / (6 * bending) + at / shear)
    under_it += end_moment * at**2 / (2 * bending)
    root = abs(force * at + end_force * length + end_moment)
    return under_it, max(root, abs(end_moment), abs(end_force * rest + end_moment))


@pytest.mark.parametrize("share", [0.5, 0.3])
def test_pinned_both_ends_force_anywhere(share: float) -> None:
    """F a^2 b^2 / (3 E I L); shear adds exactly F a b / (kappa G A L)."""
    a, b = share * LENGTH, (1.0 - share) * LENGTH
    moved, nodes = under(model_of(bar("pinned", "pinned"), a), a, [0, 1000, 0, 0, 0, 0])
    bending = 1000 * a**2 * b**2 / (3 * E * SECOND * LENGTH)
    shear = 1000 * a * b / LENGTH / (section_of(TUBE).shear_area_2_mm2 * G)
    agrees(moved[1], bending, SLENDER, source=BEAM, name=f"pinned bar, force at {share:g}, Euler, mm")
    agrees(
        moved[1], bending + shear, 1e-8, source=BEAM, name=f"pinned bar, force at {share:g}, with shear, mm"
    )
    stress = bar_stress_mpa(model_of(bar("pinned", "pinned"), a), nodes).max()
    published = 1000 * a * b / LENGTH * 19.0 / SECOND
    agrees(stress, published, 0.005, source=BEAM, name=f"pinned bar, force at {share:g}, stress M c / I, MPa")


def test_cantilever() -> None:
    model = model_of(bar("welded", "free"), 700.0)
    moved, nodes = under(model, LENGTH, [0, 0, 200, 0, 0, 0])
    published = 200 * LENGTH**3 / (3 * E * SECOND)
    agrees(moved[2], published, SLENDER / 2, source=BEAM, name="cantilevered bar, tip deflection, mm")
    slope = 200 * LENGTH**2 / (2 * E * SECOND)
    agrees(np.linalg.norm(moved[3:]), slope, 1e-6, source=BEAM, name="cantilevered bar, tip slope, rad")
    # The outermost fibre carries no shear of the force; the program adds its mean, which is on the safe side.
    stress = bar_stress_mpa(model, nodes).max()
    agrees(stress, 200 * LENGTH * 19 / SECOND, 0.001, source=BEAM, name="cantilevered bar, root stress, MPa")


@pytest.mark.parametrize("share", [0.5, 0.25, 0.6])
def test_pinned_couple_anywhere(share: float) -> None:
    """Slope at the couple M (a^3 + b^3) / (3 E I L^2); stress M max(a, b) / L c / I."""
    a, b = share * LENGTH, (1.0 - share) * LENGTH
    model = model_of(bar("pinned", "pinned"), a)
    moved, nodes = under(model, a, [0, 0, 0, 0, 0, 50_000])
    published = 50_000 * (a**3 + b**3) / (3 * E * SECOND * LENGTH**2)
    agrees(moved[5], published, SLENDER, source=BEAM, name=f"pinned bar, couple at {share:g}, slope, rad")
    stress = bar_stress_mpa(model, nodes).max()
    moment = 50_000 * max(a, b) / LENGTH
    agrees(stress, moment * 19 / SECOND, 0.001, source=BEAM, name=f"pinned bar, couple at {share:g}, MPa")


def test_clamped_couple_in_the_middle() -> None:
    """Slope M L / (16 E I): each half is a beam clamped at one end that does not move at the other."""
    moved, _ = under(model_of(bar("welded", "welded"), 600.0), 600.0, [0, 0, 0, 0, 50_000, 0])
    published = 50_000 * LENGTH / (16 * E * SECOND)
    agrees(moved[4], published, 0.02, source=BEAM, name="clamped bar, couple in the middle, slope, rad")


@pytest.mark.parametrize("share", [0.5, 0.2])
def test_torsion_between_held_ends(share: float) -> None:
    """T a b / (G J L); stress T c / J of the shorter part's share."""
    a, b = share * LENGTH, (1.0 - share) * LENGTH
    model = model_of(bar("welded", "pinned"), a)
    moved, nodes = under(model, a, [0, 0, 0, 100_000, 0, 0])
    published = 100_000 * a * b / (G * 2 * SECOND * LENGTH)
    agrees(moved[3], published, 1e-6, source=BEAM, name=f"bar in torsion at {share:g}, turn, rad")
    shear = 100_000 * max(a, b) / LENGTH * 19 / (2 * SECOND)
    stress = bar_stress_mpa(model, nodes).max() / np.sqrt(3.0)
    agrees(stress, shear, 1e-6, source=BEAM, name=f"bar in torsion at {share:g}, shear stress, MPa")


def test_stretching() -> None:
    moved, nodes = under(model_of(bar("welded", "welded"), 300.0), 300.0, [5_000, 0, 0, 0, 0, 0])
    published = 5_000 * 300 * 900 / (E * AREA * LENGTH)
    agrees(moved[0], published, 1e-6, source=BEAM, name="bar pulled along itself at a quarter, mm")
    model = model_of(bar("welded", "welded"), 300.0)
    stress = bar_stress_mpa(model, nodes).max()
    agrees(stress, 5_000 * 0.75 / AREA, 1e-6, source=BEAM, name="bar pulled along itself, stress, MPa")


def test_rectangular_tube_bends_about_its_own_axes() -> None:
    """Height along `up`: a force along Y meets b h^3 / 12, one along Z meets h b^3 / 12."""
    tube = RectangularTube(width_mm=30, height_mm=60, wall_mm=3)
    upright = (30 * 60**3 - 24 * 54**3) / 12
    flat = (60 * 30**3 - 54 * 24**3) / 12
    model = model_of(bar("pinned", "pinned", tube), 600.0)
    for axis, second, half, name in ((1, upright, 30, "along its height"), (2, flat, 15, "across it")):
        wrench = [0.0] * 6
        wrench[axis] = 1000.0
        moved, nodes = under(model, 600.0, wrench)
        published = 1000 * LENGTH**3 / (48 * E * second)
        agrees(moved[axis], published, 0.03, source=BEAM, name=f"rectangular bar, force {name}, mm")
        stress = bar_stress_mpa(model, nodes).max()
        published = 1000 * LENGTH / 4 * half / second
        agrees(stress, published, 0.01, source=BEAM, name=f"rectangular bar, force {name}, stress, MPa")


def test_tubes_in_torsion() -> None:
    """Thin round tube mean radius 20, t 2: J 2 pi r^3 t; box 40 x 40 x 3 by Bredt on its middle line."""
    round_tube = section_of(RoundTube(outer_mm=42, wall_mm=2))
    source = "torsion of thin tubes, Bredt (closed form)"
    agrees(round_tube.torsion_mm4, 100_531, 0.005, source=source, name="tube, mean radius 20, t 2, J, mm4")
    stress = 100_000 / round_tube.torsion_modulus_mm3
    agrees(stress, 100_000 * 21 / 100_531, 0.005, source=source, name="tube under 100 N.m, surface, MPa")
    box = section_of(RectangularTube(width_mm=43, height_mm=43, wall_mm=3))
    agrees(box.torsion_mm4, 192_000, 1e-9, source=source, name="box 40 x 40 x 3 centreline, J, mm4")


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_ends_with_a_bending_stiffness_lie_between(share: float) -> None:
    """Couple M in the middle, ends of stiffness k, by slope and deflection of one half, h = L / 2.

    M / 2 = (4 E I / h - (2 E I / h)^2 / (4 E I / h + k)) slope.
    """
    k = share * 5e7 / 1000.0 * np.pi / 180.0
    stiff = BarEnd(kind="stiffness", bending_nm_per_deg=(k, k), seen_by="a test")
    dash_bar = bar("pinned", "pinned").but(ends=(stiff, stiff))
    moved, _ = under(model_of(dash_bar, 600.0), 600.0, [0, 0, 0, 0, 0, 50_000])
    half = 600.0
    own = 4 * E * SECOND / half - (2 * E * SECOND / half) ** 2 / (4 * E * SECOND / half + share * 5e7)
    agrees(moved[5], 25_000 / own, 0.02, source=BEAM, name=f"bar with end stiffness {share:g}, slope, rad")


@pytest.mark.qualitative
def test_a_bolted_flange_is_pinned_at_worst_and_welded_at_best() -> None:
    flange, pinned, welded = (bar(kind, kind) for kind in ("bolted flange", "pinned", "welded"))
    assert np.allclose(model_of(flange, 600.0).stiffness, model_of(pinned, 600.0).stiffness)
    assert np.allclose(
        model_of(flange, 600.0, side="high").stiffness, model_of(welded, 600.0, side="high").stiffness
    )
