"""The dash bar against closed forms of beam theory.

Timoshenko and Gere, Mechanics of Materials, tables of beam deflections; Young and Budynas, Roark's Formulas
for Stress and Strain, tables of beams with concentrated loads and couples (from memory, to be verified). All
of them can be had again from M'' and equilibrium. The bar is long and slender, so that Euler's beam is meant;
what shear adds is a comparison of its own.
"""

import numpy as np
import pytest

from geometry.bar_section import Angle, Channel, FlatBar, RectangularTube, RoundBar, RoundTube, Section
from geometry.fixing import BarEnd, BarStay, DashBar
from geometry.stiffness_ranges import ALL_LOW, HighEnds
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


def bar(first: str, last: str, section: Section = TUBE, **end: object) -> DashBar:
    ends = [BarEnd.model_validate({"kind": kind, "seen_by": "a test"} | end) for kind in (first, last)]
    return DashBar(from_mm=(-600, 0, 0), to_mm=(600, 0, 0), section=section, ends=(ends[0], ends[1]))


def under(model: BarModel, station_mm: float, wrench: list[float]) -> tuple[np.ndarray, np.ndarray]:
    """Motion of the node at a station under a wrench there, in X, Y, Z, and the motions of all nodes."""
    way = model.motions[model.node_at(station_mm)]
    unknowns = np.linalg.solve(model.stiffness, way.T @ np.array(wrench))
    return way @ unknowns, np.concatenate([motion @ unknowns for motion in model.motions])[:, None]


EVERY: HighEnds = frozenset({"end 1", "end 2", "stay 1"})


def model_of(dash_bar: DashBar, *stations: float, high: HighEnds = ALL_LOW) -> BarModel:
    return bar_model(dash_bar, stations, E, NU, high)


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
    agrees(
        float(np.linalg.norm(moved[3:])), slope, 1e-6, source=BEAM, name="cantilevered bar, tip slope, rad"
    )
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
@pytest.mark.parametrize("high", [ALL_LOW, EVERY])
def test_an_end_whose_stiffness_is_blank_holds_no_bending(high: HighEnds) -> None:
    blank = bar("pinned", "pinned").but(ends=(BarEnd(kind="stiffness"), BarEnd(kind="stiffness")))
    held, pinned = (model_of(one, 600.0, high=high) for one in (blank, bar("pinned", "pinned")))
    assert np.array_equal(held.stiffness, pinned.stiffness)


@pytest.mark.qualitative
def test_a_bolted_flange_is_pinned_at_worst_and_welded_at_best() -> None:
    flange, pinned, welded = (bar(kind, kind) for kind in ("bolted flange", "pinned", "welded"))
    assert np.allclose(model_of(flange, 600.0).stiffness, model_of(pinned, 600.0).stiffness)
    assert np.allclose(
        model_of(flange, 600.0, high=EVERY).stiffness, model_of(welded, 600.0, high=EVERY).stiffness
    )
    for high, one in (({"end 1"}, bar("welded", "pinned")), ({"end 2"}, bar("pinned", "welded"))):
        mixed = model_of(flange, 600.0, high=frozenset(high))
        assert np.allclose(mixed.stiffness, model_of(one, 600.0).stiffness)


def test_propped_at_one_end() -> None:
    """Welded and pinned, force F in the middle: 7 F L^3 / 768 E I, root moment 3 F L / 16."""
    model = model_of(bar("welded", "pinned"), 600.0)
    moved, nodes = under(model, 600.0, [0, 1000, 0, 0, 0, 0])
    published = 7 * 1000 * LENGTH**3 / (768 * E * SECOND)
    agrees(moved[1], published, 0.03, source=BEAM, name="propped bar, force in the middle, mm")
    stress = bar_stress_mpa(model, nodes).max()
    published = 3 * 1000 * LENGTH / 16 * 19 / SECOND
    agrees(stress, published, 0.02, source=BEAM, name="propped bar, force in the middle, stress, MPa")


def simple(at: float, seen: float) -> float:
    """Deflection at one place of a simple span under 1 N at another, shear included."""
    low, high = min(at, seen), max(at, seen)
    far = LENGTH - high
    bent = low * far * (LENGTH**2 - low**2 - far**2) / (6 * E * SECOND * LENGTH)
    return bent + low * far / (LENGTH * section_of(TUBE).shear_area_2_mm2 * G)


@pytest.mark.parametrize(("stay_at", "force_at"), [(600.0, 600.0), (400.0, 700.0), (900.0, 250.0)])
def test_a_stay_anywhere(stay_at: float, force_at: float) -> None:
    """A spring k on a simple span takes F d_sf / (1 / k + d_ss), d its deflections under 1 N."""
    k, force = 300.0, 1000.0
    stay = BarStay(station_mm=stay_at, direction=(0, -2, 0), stiffness_n_per_mm=(k, 2 * k), seen_by="a test")
    stayed = bar("pinned", "pinned").but(stays=(stay,))
    for high, stiffness in ((ALL_LOW, k), (EVERY, 2 * k)):
        moved, _ = under(model_of(stayed, force_at, high=high), force_at, [0, force, 0, 0, 0, 0])
        taken = force * simple(stay_at, force_at) / (1 / stiffness + simple(stay_at, stay_at))
        published = force * simple(force_at, force_at) - taken * simple(stay_at, force_at)
        name = f"bar stayed at {stay_at:g} with {stiffness:g} N/mm, force at {force_at:g}, mm"
        agrees(moved[1], published, 1e-6, source=BEAM, name=name)
    across, _ = under(model_of(stayed, force_at), force_at, [0, 0, force, 0, 0, 0])
    name = f"bar stayed at {stay_at:g}, force across the stay at {force_at:g}, mm"
    agrees(across[2], force * simple(force_at, force_at), 1e-6, source=BEAM, name=name)


def test_a_slanting_stay_holds_along_itself() -> None:
    """A stay at 30 deg from the force's way: the span moves the same way as on k cos^2, and across it too."""
    angle, k, force = np.pi / 6, 500.0, 1000.0
    way = (0.0, float(np.cos(angle)), float(np.sin(angle)))
    stay = BarStay(station_mm=600, direction=way, stiffness_n_per_mm=(k, k), seen_by="a test")
    moved, _ = under(
        model_of(bar("pinned", "pinned").but(stays=(stay,)), 600.0), 600.0, [0, force, 0, 0, 0, 0]
    )
    # In the stay's way the span is 1 / d + k stiff, square to it 1 / d.
    own = 1.0 / simple(600, 600)
    along, square = force * np.cos(angle) / (own + k), force * np.sin(angle) / own
    published = along * np.cos(angle) + square * np.sin(angle)
    agrees(moved[1], published, 1e-6, source=BEAM, name="slanting stay, movement in the force's way, mm")
    published = along * np.sin(angle) - square * np.cos(angle)
    agrees(moved[2], published, 1e-6, source=BEAM, name="slanting stay, movement across the force, mm")


def test_channel_twists_about_its_shear_centre() -> None:
    """Force along the web through the middle of the outer box: F s a b / (G J L), s to the shear centre.

    b = 28.5 and h = 57 on the middle lines: the shear centre lies 3 b^2 / (h + 6 b) behind the web.
    """
    channel = Channel(width_mm=30, height_mm=60, wall_mm=3)
    torsion = 3.0**3 * (57 + 2 * 28.5) / 3
    behind = 3 * 28.5**2 / (57 + 6 * 28.5)
    s = 15 - 1.5 + behind
    model = model_of(bar("pinned", "pinned", channel), 600.0)
    moved, _ = under(model, 600.0, [0, 1000, 0, 0, 0, 0])
    twist = 1000 * s * LENGTH / (4 * G * torsion)
    agrees(abs(moved[3]), twist, 1e-6, source=BEAM, name="channel, force at the box's middle, twist, rad")
    second = (30 * 60**3 - 27 * 54**3) / 12
    bent = 1000 * LENGTH**3 / (48 * E * second)
    name = "channel, force at the box's middle, movement there, mm"
    agrees(moved[1], bent + twist * s, 0.01, source=BEAM, name=name)
    # The same force through the shear centre: web at -Z for a bar along X with Y up.
    through, nodes = under(model, 600.0, [0, 1000, 0, np.copysign(1000 * s, -moved[3]), 0, 0])
    agrees(through[3], 0.0, 1e-6, source=BEAM, name="channel, force at its shear centre, twist", scale=twist)
    agrees(through[1], bent, 0.03, source=BEAM, name="channel, force at its shear centre, mm")
    stress = bar_stress_mpa(model, nodes).max()
    published = 1000 * LENGTH / 4 * 30 / second
    agrees(stress, published, 0.02, source=BEAM, name="channel, force at its shear centre, stress, MPa")


@pytest.mark.qualitative
def test_the_webs_side_is_as_the_file_says() -> None:
    """Seen along the bar from its first end, up upward, the web is on the right: +Z for +X and Y up."""
    model = model_of(bar("pinned", "pinned", Channel(width_mm=30, height_mm=60, wall_mm=3)), 600.0)
    right = np.cross(model.axes[:, 2], [0.0, 1.0, 0.0])
    assert model.section.middle_mm[0] * model.axes[:, 0] @ right > 0.0


def test_angle_bends_askew() -> None:
    """Cantilevered angle, force along one leg at its shear centre: F L^3 / 3 E times what I and P make of it.

    Along the force I_2 / (I_1 I_2 - P^2), square to it P / (I_1 I_2 - P^2), about axes along the legs.
    """
    w, t = 50.0, 5.0
    middle = (w**2 + w * t - t**2) / (2 * (2 * w - t))
    area = t * (2 * w - t)
    own = (t * w**3 + (w - t) * t**3) / 3 - area * middle**2
    # Heel at (0, 0): legs (0..t, 0..w) and (t..w, 0..t).
    product = t**2 * w**2 / 4 + (w**2 - t**2) * t**2 / 4 - area * middle**2
    model = model_of(bar("welded", "free", Angle(width_mm=w, height_mm=w, wall_mm=t)), LENGTH)
    lever = w / 2 - t / 2
    width_way = model.axes[:, 0]
    # Shear centre at (-lever, -lever) of the box: the force of 100 N along Y there.
    arm = -lever * width_way + np.array([0.0, -lever, 0.0])
    force = np.array([0.0, 100.0, 0.0])
    moved, nodes = under(model, LENGTH, [*force, *np.cross(arm, force)])
    scale = 100 * LENGTH**3 / (3 * E * (own**2 - product**2))
    agrees(moved[1], scale * own, 0.002, source=BEAM, name="angle, force along a leg, along it, mm")
    across = float(moved[:3] @ width_way)
    agrees(across, -scale * product, 0.002, source=BEAM, name="angle, force along a leg, across it, mm")
    agrees(moved[3], 0.0, 1e-9, source=BEAM, name="angle, force at its shear centre, twist", scale=1.0)
    corners = np.array([(0, 0), (w, 0), (w, t), (t, w), (0, w)]) - middle
    at = np.abs(own * corners[:, 1] - product * corners[:, 0]) * 100 * LENGTH / (own**2 - product**2)
    stress = bar_stress_mpa(model, nodes).max()
    agrees(stress, at.max(), 0.01, source=BEAM, name="angle, force along a leg, root stress, MPa")


def test_sections_as_tables_have_them() -> None:
    """An angle 50 x 50 x 5 as rolled, its rounded corners worth 3 %; a flat 4 to 1; a round bar."""
    table = "EN 10056-1 angle 50 x 50 x 5 (from memory, to be verified)"
    angle = section_of(Angle(width_mm=50, height_mm=50, wall_mm=5))
    agrees(angle.area_mm2, 480, 0.02, source=table, name="angle 50 x 50 x 5, area, mm2")
    agrees(angle.second_moment_1_mm4, 174_000, 0.04, source=table, name="angle 50 x 50 x 5, I_u, mm4")
    agrees(angle.second_moment_2_mm4, 45_500, 0.02, source=table, name="angle 50 x 50 x 5, I_v, mm4")
    table = "torsion of a rectangle 4 to 1, Timoshenko and Goodier (from memory, to be verified)"
    flat = section_of(FlatBar(width_mm=40, height_mm=10))
    agrees(flat.torsion_mm4, 0.281 * 40 * 10**3, 0.003, source=table, name="flat bar 40 x 10, J, mm4")
    agrees(
        flat.torsion_modulus_mm3, 0.282 * 40 * 10**2, 0.003, source=table, name="flat 40 x 10, modulus, mm3"
    )
    solid = section_of(RoundBar(outer_mm=25))
    agrees(solid.torsion_mm4, np.pi * 25**4 / 32, 1e-9, source=BEAM, name="round bar 25, J, mm4")


@pytest.mark.qualitative
@pytest.mark.parametrize(
    "section", [Angle(width_mm=40, height_mm=60, wall_mm=4), Channel(width_mm=70, height_mm=40, wall_mm=3)]
)
def test_open_sections_are_stiff_in_no_way_twice(section: Section) -> None:
    """Six rigid motions store nothing, whatever the offsets of centroid and shear centre."""
    element = model_of(bar("welded", "free", section), 600.0).elements[0]
    values = np.linalg.eigvalsh(element)
    assert np.sum(np.abs(values) < 1e-7 * values[-1]) >= 6
    assert np.allclose(element, element.T)
