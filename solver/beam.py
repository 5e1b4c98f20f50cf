"""Straight members that bend, shear, twist and stretch: the dash bar, spacers and bolt shanks.

Timoshenko's beam (Timoshenko and Gere, Mechanics of Materials; shear coefficients Cowper 1966, from memory,
to be verified against the paper).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.rigid import Floats, turned


@dataclass(frozen=True)
class BeamSection:
    """What a cross-section is worth. Axis 1 and 2 are square to the member; `_1` bends about axis 1."""

    area_mm2: float
    second_moment_1_mm4: float
    second_moment_2_mm4: float
    torsion_mm4: float
    shear_area_1_mm2: float
    """Resists a force along axis 1."""
    shear_area_2_mm2: float
    outer_1_mm: float
    """Largest distance of material from the middle, along axis 1."""
    outer_2_mm: float
    torsion_modulus_mm3: float
    """Torque over largest shear stress."""
    is_round: bool
    middle_mm: tuple[float, float] = (0.0, 0.0)
    """Centroid, along axis 1 and 2 of the outer box from its middle."""
    shear_centre_mm: tuple[float, float] = (0.0, 0.0)
    """Where a force bends without twisting, from the same."""
    tilt_rad: float = 0.0
    """From the outer box's axis 1 to the section's own, about the member's direction."""
    corners_mm: tuple[tuple[float, float], ...] = ()
    """Along the section's own axes from its centroid; none where the two outer distances meet in one."""


def ring_section(outer_mm: float, inner_mm: float, poisson: float = 0.3) -> BeamSection:
    """Return the section of a round tube, of a round bar if inner_mm is 0; ValueError if it has no wall."""
    if not 0.0 <= inner_mm < outer_mm:
        raise ValueError(f"a ring of outer {outer_mm:g} mm and inner {inner_mm:g} mm has no wall")
    area = np.pi / 4.0 * (outer_mm**2 - inner_mm**2)
    second = np.pi / 64.0 * (outer_mm**4 - inner_mm**4)
    m2 = (inner_mm / outer_mm) ** 2
    shape = (
        6.0 * (1.0 + poisson) * (1.0 + m2) ** 2
        / ((7.0 + 6.0 * poisson) * (1.0 + m2) ** 2 + (20.0 + 12.0 * poisson) * m2)
    )  # fmt: skip
    half = outer_mm / 2.0
    return BeamSection(
        area, second, second, 2.0 * second, shape * area, shape * area, half, half, 2.0 * second / half, True
    )


def own_motion(section: BeamSection, axes: Floats) -> Floats:
    """Return the (6, 6) from a node's motion in X, Y, Z to what the section feels, in its own axes.

    Shifts along axis 1 and 2 are those of the shear centre, the shift along the member is the centroid's. The
    node is the middle of the outer box, whose axes are the columns of `axes`.
    """
    (c1, c2), (s1, s2) = section.middle_mm, section.shear_centre_mm
    moved = np.eye(6)
    moved[0, 5], moved[1, 5] = -s2, s1
    moved[2, 3], moved[2, 4] = c2, -c1
    cos, sin = np.cos(section.tilt_rad), np.sin(section.tilt_rad)
    tilt = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
    return np.asarray(turned(tilt) @ moved @ turned(axes))


def beam_stiffness(
    section: BeamSection, length_mm: float, elastic_modulus_mpa: float, poisson: float, axes: Floats
) -> Floats:
    """Return the (12, 12) stiffness of a beam between two points, in X, Y, Z; N, mm and rad.

    Columns of `axes` are axis 1, axis 2 and the member's direction from the first point to the second. The
    points are the middle of the section's outer box.
    """
    shear_modulus = elastic_modulus_mpa / (2.0 * (1.0 + poisson))
    length = length_mm
    stiffness = np.zeros((12, 12))

    def add(rows: tuple[int, ...], block: Floats) -> None:
        stiffness[np.ix_(rows, rows)] += block

    pair = np.array([[1.0, -1.0], [-1.0, 1.0]])
    add((2, 8), elastic_modulus_mpa * section.area_mm2 / length * pair)
    add((5, 11), shear_modulus * section.torsion_mm4 / length * pair)
    planes = (
        (section.second_moment_2_mm4, section.shear_area_1_mm2, (0, 4, 6, 10), 1.0),
        (section.second_moment_1_mm4, section.shear_area_2_mm2, (1, 3, 7, 9), -1.0),
    )
    for second_moment, shear_area, rows, sense in planes:
        bending = elastic_modulus_mpa * second_moment
        softness = 12.0 * bending / (shear_modulus * shear_area * length**2)
        c = bending / (length**3 * (1.0 + softness))
        a, b = 6.0 * length * sense, (4.0 + softness) * length**2
        d = (2.0 - softness) * length**2
        add(
            rows,
            c * np.array([[12.0, a, -12.0, a], [a, b, -a, d], [-12.0, -a, 12.0, -a], [a, d, -a, b]]),
        )
    turn = np.zeros((12, 12))
    turn[:6, :6] = turn[6:, 6:] = own_motion(section, axes)
    return np.asarray(turn.T @ stiffness @ turn)
