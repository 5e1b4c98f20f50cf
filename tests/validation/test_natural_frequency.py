"""Natural frequency: a rigid body on springs, a cantilever with a tip mass, plates of their own mass."""

from __future__ import annotations

import math

import numpy as np
from scipy.linalg import eigh

from geometry.bracket import Bracket
from geometry.casing import Column, ColumnMount
from solver.beam import beam_stiffness, ring_section
from solver.casing_answers import casing_answers
from solver.elasticity import assemble_stiffness
from solver.frequency import plate_mass, slowest_swing
from solver.mass import beam_mass, casing_mass, mass_of_fields
from solver.rigid import axes_along
from solver.solved import Solved
from tests.brackets import one_piece, solved_once, straps
from tests.validation.reference import agrees
from tests.validation.solid_blocks import block

BEAM = "Timoshenko, Vibration Problems in Engineering (from memory, to be verified)"
SPRINGS = "rigid body on springs (closed form)"
RIGID = "rigid body, statics and moments of inertia (closed form)"
DENSITY = 7850.0


def test_cantilever_with_a_tip_mass() -> None:
    """One beam element: the static shape carries 33/140 of the beam's own mass to the tip."""
    section, length, tip_t = ring_section(30.0, 24.0), 400.0, 2e-3
    axes = axes_along([0.0, 0.0, 1.0])
    stiffness = beam_stiffness(section, length, 210_000.0, 0.3, axes)[6:, 6:]
    mass = beam_mass(section, length, DENSITY, axes)[6:, 6:] + np.diag([tip_t] * 3 + [1e-9] * 3)
    hz = math.sqrt(eigh(stiffness, mass, eigvals_only=True)[0]) / (2.0 * math.pi)
    beam_t = 1e-12 * DENSITY * section.area_mm2 * length
    spring = 3.0 * 210_000.0 * section.second_moment_1_mm4 / length**3
    published = math.sqrt(spring / (tip_t + 33.0 / 140.0 * beam_t)) / (2.0 * math.pi)
    # shear makes it slower by a little
    agrees(hz, published, 0.01, source=BEAM, name="tube with a tip mass, first frequency, Hz")


def test_a_beam_moved_as_one_weighs_and_turns_as_a_rod() -> None:
    """Of the speeds squared: rho A L along, rho A L3 / 3 about an end, rho (I1 + I2) L about itself."""
    section, length = ring_section(30.0, 24.0), 400.0
    mass = beam_mass(section, length, DENSITY, axes_along([0.0, 0.0, 1.0]))
    line = 1e-12 * DENSITY * section.area_mm2
    polar = 1e-12 * DENSITY * (section.second_moment_1_mm4 + section.second_moment_2_mm4)
    for axis in range(3):
        along = np.zeros(12)
        along[[axis, 6 + axis]] = 1.0
        agrees(along @ mass @ along, line * length, 1e-9, source=RIGID, name=f"a rod's mass along {axis}, t")
    turn = np.zeros(12)
    turn[[4, 10]], turn[6] = 1.0, length
    agrees(turn @ mass @ turn, line * length**3 / 3.0, 1e-9, source=RIGID, name="a rod about its end, t mm2")
    twist = np.zeros(12)
    twist[[5, 11]] = 1.0
    agrees(twist @ mass @ twist, polar * length, 1e-9, source=RIGID, name="a tube about itself, t mm2")


def test_cantilever_by_itself() -> None:
    section, length, parts = ring_section(20.0, 0.0), 800.0, 12
    axes = axes_along([0.0, 0.0, 1.0])
    stiffness, mass = np.zeros((6 * (parts + 1),) * 2), np.zeros((6 * (parts + 1),) * 2)
    for i in range(parts):
        rows = slice(6 * i, 6 * i + 12)
        stiffness[rows, rows] += beam_stiffness(section, length / parts, 210_000.0, 0.3, axes)
        mass[rows, rows] += beam_mass(section, length / parts, DENSITY, axes)
    hz = np.sqrt(eigh(stiffness[6:, 6:], mass[6:, 6:], eigvals_only=True)) / (2.0 * math.pi)
    line = 1e-12 * DENSITY * section.area_mm2
    published = (1.8751**2, 4.6941**2)
    for order, (found, square) in enumerate(zip((hz[0], hz[2]), published, strict=True), start=1):
        expected = (
            square / length**2 * math.sqrt(210_000.0 * section.second_moment_1_mm4 / line) / (2 * math.pi)
        )
        agrees(float(found), expected, 0.01, source=BEAM, name=f"clamped bar, frequency {order}, Hz")


def test_solid_cantilever() -> None:
    """A strip of quadratic tetrahedra: consistent mass and stiffness against Euler's beam."""
    mesh = block((200.0, 20.0, 5.0), (10, 1, 1))
    held = np.isclose(mesh.points[:, 0], 0.0)
    free = np.flatnonzero(~np.repeat(held, 3))
    stiffness = assemble_stiffness(mesh, 210_000.0, 0.0).toarray()[np.ix_(free, free)]
    mass = mass_of_fields(mesh, DENSITY, np.eye(3 * len(mesh.points))[:, free])
    lowest = eigh(stiffness, mass, eigvals_only=True, subset_by_index=(0, 0))[0]
    published = 1.8751**2 / 200.0**2 * math.sqrt(210_000.0 * 25.0 / 12.0 / (1e-12 * DENSITY)) / (2 * math.pi)
    agrees(math.sqrt(lowest) / (2 * math.pi), published, 0.01, source=BEAM, name="strip of solids, first, Hz")


def test_mass_of_a_plate_that_moves_as_a_rigid_body() -> None:
    mesh = block((60.0, 30.0, 6.0), (4, 2, 1))
    x, y, z = mesh.points.T
    nothing = np.zeros_like(x)
    ways = [np.stack(way, axis=1).ravel() for way in ((x * 0 + 1, nothing, nothing), (nothing, -z, y))]
    found = mass_of_fields(mesh, DENSITY, np.stack(ways, axis=1))
    mass = 1e-12 * DENSITY * 60.0 * 30.0 * 6.0
    agrees(float(found[0, 0]), mass, 1e-6, source=RIGID, name="plate moved along X, tonnes")
    about = mass * (30.0**2 + 6.0**2) / 3.0
    agrees(float(found[1, 1]), about, 1e-6, source=RIGID, name="plate turned about X, tonne mm2")


def test_condensed_mass_of_a_plate_moved_as_a_whole() -> None:
    solved = solved_once(one_piece())
    plate = solved.plates[0]
    shift = np.tile(np.eye(6)[:, 2], len(plate.places))
    moved = float(shift @ plate_mass(plate) @ shift)
    agrees(1000.0 * moved, plate.mass_kg, 1e-6, source=RIGID, name="plate condensed to its bolts, kg")


def _on_soft_springs(mass_kg: float) -> Solved:
    """Two straps that hold little, and a column mount that is far stiffer along the shaft than they are."""
    mount = ColumnMount(
        name="mount", station_mm=-60.0, sideways_n_per_mm=(1e6, 1e6), along_n_per_mm=(20_000.0, 20_000.0)
    )
    bracket: Bracket = straps("side by side", column=Column(held_by="donor mount", mount=mount))
    assert bracket.casing is not None
    return solved_once(bracket.but(casing=bracket.casing.but(mass_kg=mass_kg)))


def test_rigid_body_on_springs() -> None:
    """Flexibility from unit loads, inverted by hand, times the casing's own mass: plates weigh next to
    nothing."""
    solved = _on_soft_springs(200.0)
    answer = next(a for a in casing_answers(solved) if a.taken == "stuck" and not a.high)
    assert solved.bracket.casing is not None
    mass = casing_mass(solved.bracket.casing, answer.reference_mm)
    published = 1.0 / math.sqrt(float(np.linalg.eigvals(answer.motions @ mass).real.max())) / (2.0 * math.pi)
    swing = slowest_swing(solved.bracket, solved.states[0].structure)
    assert swing is not None
    agrees(swing.hz, published, 0.005, source=SPRINGS, name="casing of 200 kg on straps and a mount, Hz")


def test_casing_turned_about_the_shaft() -> None:
    """A block of even density: m (a2 + b2) / 12 about its middle, and m d2 more about a line beside it."""
    casing = one_piece(mass_kg=6.0).casing
    assert casing is not None
    mass = casing_mass(casing, np.zeros(3))
    agrees(
        float(mass[5, 5]), 6e-3 * (100.0**2 + 100.0**2) / 12.0, 1e-9, source=RIGID, name="about Z, tonne mm2"
    )
    about = 6e-3 * ((100.0**2 + 120.0**2) / 12.0 + 60.0**2)
    agrees(float(mass[3, 3]), about, 1e-9, source=RIGID, name="about X at its face, tonne mm2")


def test_mass_of_a_clamped_bar_at_its_middle() -> None:
    """The bar's own mass: a clamped bar of mass m carries 13/35 of it to its middle (Rayleigh, static
    shape)."""
    section, half = ring_section(40.0, 34.0), 600.0
    axes = axes_along([1.0, 0.0, 0.0])
    two = np.zeros((18, 18))
    for i in (0, 1):
        two[6 * i : 6 * i + 12, 6 * i : 6 * i + 12] += beam_mass(section, half, DENSITY, axes)
    own = float(two[7, 7])
    whole = 1e-12 * DENSITY * section.area_mm2 * 2.0 * half
    agrees(own / whole, 13.0 / 35.0, 1e-9, source=BEAM, name="clamped bar's share of mass at its middle")
