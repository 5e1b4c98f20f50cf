"""What the cross-sections of a dash bar are worth: tubes, solid bars, angles and channels.

Closed forms with sharp corners. Torsion: Bredt's for tubes, Saint-Venant's sum of b t^3 / 3 for open
sections, Roark's fit for a solid rectangle. Shear centres of open sections are those of thin walls on the
middle line (Timoshenko and Gere, Mechanics of Materials; Young and Budynas, Roark's Formulas: from memory, to
be verified). Warping is left out: a finding of the bracket tells so of every open section.
"""

from __future__ import annotations

import numpy as np

from geometry.bar_section import Angle, Channel, FlatBar, RectangularTube, RoundBar, RoundTube, Section
from solver.beam import BeamSection, ring_section

_FLAT_SHEAR = 5.0 / 6.0
"""Share of a rectangle that resists shear (Timoshenko)."""
_Box = tuple[float, float, float, float]
"""Low and high along axis 1, low and high along axis 2, from the middle of the outer box."""


def section_of(section: Section) -> BeamSection:
    """Return what a section is worth; ValueError if the wall fills or exceeds it."""
    match section:
        case RoundTube():
            return _round_tube(section)
        case RectangularTube():
            return _rectangular_tube(section)
        case RoundBar():
            return ring_section(section.outer_mm, 0.0)
        case FlatBar():
            return _flat_bar(section)
        case Angle():
            return _angle(section)
        case Channel():
            return _channel(section)


def _round_tube(section: RoundTube) -> BeamSection:
    if 2.0 * section.wall_mm > section.outer_mm:
        raise ValueError(
            f"a tube of {section.outer_mm:g} mm cannot have a wall of {section.wall_mm:g} mm:"
            " at most half of it"
        )
    return ring_section(section.outer_mm, section.outer_mm - 2.0 * section.wall_mm)


def _room(section: RectangularTube | Angle | Channel, what: str) -> tuple[float, float, float]:
    """Return width, height and wall."""
    width, height, wall = section.width_mm, section.height_mm, section.wall_mm
    if 2.0 * wall >= min(width, height):
        raise ValueError(
            f"{what} of {width:g} x {height:g} mm cannot have a wall of {wall:g} mm: less than half of it"
        )
    return width, height, wall


def _rectangular_tube(section: RectangularTube) -> BeamSection:
    """Sharp corners; torsion on the middle line."""
    width, height, wall = _room(section, "a tube")
    inner_width, inner_height = width - 2.0 * wall, height - 2.0 * wall
    enclosed = (width - wall) * (height - wall)
    around = 2.0 * (width + height - 2.0 * wall)
    return BeamSection(
        area_mm2=width * height - inner_width * inner_height,
        second_moment_1_mm4=(width * height**3 - inner_width * inner_height**3) / 12.0,
        second_moment_2_mm4=(height * width**3 - inner_height * inner_width**3) / 12.0,
        torsion_mm4=4.0 * enclosed**2 * wall / around,
        shear_area_1_mm2=2.0 * wall * (width - wall),
        shear_area_2_mm2=2.0 * wall * (height - wall),
        outer_1_mm=width / 2.0,
        outer_2_mm=height / 2.0,
        torsion_modulus_mm3=2.0 * enclosed * wall,
        is_round=False,
    )


def _flat_bar(section: FlatBar) -> BeamSection:
    width, height = section.width_mm, section.height_mm
    wide, thin = max(width, height), min(width, height)
    ratio = thin / wide
    fit = 1.0 + 0.6095 * ratio + 0.8865 * ratio**2 - 1.8023 * ratio**3 + 0.91 * ratio**4
    area = width * height
    return BeamSection(
        area_mm2=area,
        second_moment_1_mm4=width * height**3 / 12.0,
        second_moment_2_mm4=height * width**3 / 12.0,
        torsion_mm4=wide * thin**3 * (1.0 / 3.0 - 0.21 * ratio * (1.0 - ratio**4 / 12.0)),
        shear_area_1_mm2=_FLAT_SHEAR * area,
        shear_area_2_mm2=_FLAT_SHEAR * area,
        outer_1_mm=width / 2.0,
        outer_2_mm=height / 2.0,
        torsion_modulus_mm3=wide * thin**2 / (3.0 * fit),
        is_round=False,
    )


def _angle(section: Angle) -> BeamSection:
    """The shear centre is where the legs' middle lines meet."""
    width, height, wall = _room(section, "an angle")
    left, foot = -width / 2.0, -height / 2.0
    legs = ((left, left + wall, foot + wall, -foot), (left, -left, foot, foot + wall))
    corners = (
        (left, foot),
        (-left, foot),
        (-left, foot + wall),
        (left + wall, -foot),
        (left, -foot),
    )
    least = _FLAT_SHEAR * wall * min(width, height)
    lines = width + height - wall
    shear_centre = (left + wall / 2.0, foot + wall / 2.0)
    return _open(legs, corners, shear_centre, (wall, lines), (least, least))


def _channel(section: Channel) -> BeamSection:
    """The shear centre lies 3 b^2 / (h + 6 b) behind the web, b and h on the middle lines."""
    width, height, wall = _room(section, "a channel")
    left, foot = -width / 2.0, -height / 2.0
    legs = (
        (left, left + wall, foot, -foot),
        (left + wall, -left, foot, foot + wall),
        (left + wall, -left, -foot - wall, -foot),
    )
    corners = ((left, foot), (-left, foot), (-left, -foot), (left, -foot))
    flange, web = width - wall / 2.0, height - wall
    behind = 3.0 * flange**2 / (web + 6.0 * flange)
    shear = (_FLAT_SHEAR * 2.0 * flange * wall, _FLAT_SHEAR * web * wall)
    return _open(legs, corners, (left + wall / 2.0 - behind, 0.0), (wall, web + 2.0 * flange), shear)


def _open(
    legs: tuple[_Box, ...],
    corners: tuple[tuple[float, float], ...],
    shear_centre: tuple[float, float],
    wall_and_line: tuple[float, float],
    shear: tuple[float, float],
) -> BeamSection:
    """Return an open section of rectangles, its own axes those about which it bends most and least."""
    wall, line = wall_and_line
    areas = np.array([(b - a) * (d - c) for a, b, c, d in legs])
    middles = np.array([((a + b) / 2.0, (c + d) / 2.0) for a, b, c, d in legs])
    middle = areas @ middles / areas.sum()
    arms = middles - middle
    sizes = np.array([(b - a, d - c) for a, b, c, d in legs])
    about_1 = float(np.sum(areas * (sizes[:, 1] ** 2 / 12.0 + arms[:, 1] ** 2)))
    about_2 = float(np.sum(areas * (sizes[:, 0] ** 2 / 12.0 + arms[:, 0] ** 2)))
    product = float(np.sum(areas * arms[:, 0] * arms[:, 1]))
    tilt = 0.5 * float(np.arctan2(-2.0 * product, about_1 - about_2))
    turn = np.array([[np.cos(tilt), np.sin(tilt)], [-np.sin(tilt), np.cos(tilt)]])
    mean, half = (about_1 + about_2) / 2.0, float(np.hypot((about_1 - about_2) / 2.0, product))
    own = (np.asarray(corners) - middle) @ turn.T
    torsion = line * wall**3 / 3.0
    give = turn**2 @ (1.0 / np.asarray(shear))
    return BeamSection(
        area_mm2=float(areas.sum()),
        second_moment_1_mm4=mean + half,
        second_moment_2_mm4=mean - half,
        torsion_mm4=torsion,
        shear_area_1_mm2=float(1.0 / give[0]),
        shear_area_2_mm2=float(1.0 / give[1]),
        outer_1_mm=float(np.abs(own[:, 0]).max()),
        outer_2_mm=float(np.abs(own[:, 1]).max()),
        torsion_modulus_mm3=torsion / wall,
        is_round=False,
        middle_mm=(float(middle[0]), float(middle[1])),
        shear_centre_mm=shear_centre,
        tilt_rad=tilt,
        corners_mm=tuple((float(a), float(b)) for a, b in own),
    )
