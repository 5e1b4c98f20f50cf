"""What the casing's turn comes from, against hand models of springs in series.

Parts in series carry the same couple, so each adds M / k to the turn, its share being that over the whole
(Clapeyron's theorem; closed forms of beam theory, Timoshenko and Gere: from memory, to be verified).
"""

from math import pi

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.fixing import BarEnd, Spacer
from geometry.placing import footprints_of, place_bolts
from geometry.plate_mesh import mesh_plate
from solver.mesh_stage import MeshedPlate, meshed_plate
from solver.solved import Solved
from solver.turn_shares import turn_shares, works_of
from tests.brackets import NO_BEARINGS, WEIGHTLESS_STEEL, bolt_group, one_piece, solved_on
from tests.validation.reference import agrees

SOURCE = "springs in series, beam theory (Timoshenko and Gere, from memory, to be verified)"
E, G = 210_000.0, 210_000.0 / 2.6
COUPLE = 1_000.0


def whole(bracket: Bracket, bed_factor: float = 1.0) -> tuple[list[MeshedPlate], Solved]:
    """Solve a bracket of one plate on a coarse mesh."""
    places = place_bolts(bracket)
    mesh = mesh_plate(bracket.plates[0], footprints_of(places, "plate"), 30.0)
    plates = [meshed_plate(bracket, 0, mesh, places, bed_factor=bed_factor, study=True)]
    return plates, solved_on(bracket, plates)


def turn(solved: Solved) -> float:
    """Return the casing's turn under 1 N.m, rad."""
    return float(solved.states[0].response.casing[5, 5]) * COUPLE


def stiff_plate_on_a_bar(end: BarEnd) -> Bracket:
    """Return a thick, hard plate that does not bend, on a bar with both ends held so."""
    bracket = one_piece(column=NO_BEARINGS, thickness_mm=4.0, mass_kg=0.0)
    assert bracket.dash_bar is not None
    at = bracket.dash_bar.from_mm[1]
    bar = bracket.dash_bar.but(from_mm=(-600, at, 24), to_mm=(600, at, 24), ends=(end, end))
    hard = WEIGHTLESS_STEEL.but(elastic_modulus_mpa=1_000 * E)
    plates = tuple(plate.but(material=hard.name) for plate in bracket.plates)
    return bracket.but(dash_bar=bar, materials=(hard,), plates=plates)


def test_a_hard_plate_on_a_bar_with_elastic_ends() -> None:
    """Block of half width 60 between two beams of 540 mm, each ending in a spring k.

    A beam with end turns a (block) and b (spring), measured from its chord: M_a = 4EI/h a + 2EI/h b and
    -k b' = 2EI/h a + 4EI/h b, where the chord turns by 60/h of the block's turn; shear as Timoshenko has it.
    """
    second, h, arm = (40.0**4 - 34.0**4) / 12.0, 540.0, 60.0
    k_nm_per_deg = 400.0
    k = k_nm_per_deg * 1_000.0 * 180.0 / pi
    end = BarEnd(kind="stiffness", bending_nm_per_deg=(k_nm_per_deg, k_nm_per_deg), seen_by="a test")
    plates, solved = whole(stiff_plate_on_a_bar(end))
    works = works_of(solved.bracket, plates, solved.states[0])
    agrees(sum(works.values()), COUPLE * turn(solved), 1e-6, source=SOURCE, name="work of all parts, N.mm")
    # For a unit turn of the block: chord -arm / h, so a = 1 + arm / h, b = end's turn + arm / h.
    chord = arm / h
    shear = 12.0 * E * second / (G * 2.0 * 3.0 * 37.0 * h**2)
    own = np.array([[4.0 + shear, 2.0 - shear], [2.0 - shear, 4.0 + shear]])
    own *= E * second / h / (1.0 + shear)
    at_end = -(own[1, 0] * (1.0 + chord) + own[1, 1] * chord) / (own[1, 1] + k)
    turns = np.array([1.0 + chord, at_end + chord])
    in_bar, in_end = 2.0 * float(turns @ own @ turns), 2.0 * k * at_end**2
    stiffness = in_bar + in_end
    for name, part in (("dash bar", in_bar), ("ends of the dash bar", in_end)):
        by_hand = COUPLE**2 / stiffness * part / stiffness
        agrees(works[name], by_hand, 0.03, source=SOURCE, name=f"hard plate on a bar, {name}, N.mm")
    shares = turn_shares(solved.bracket, plates, solved.states[0])
    assert sum(s.share for s in shares) == pytest.approx(1.0, abs=1e-9)
    assert [s.share for s in shares] == sorted((s.share for s in shares), reverse=True)
    assert {s.name for s in shares} == {"dash bar", "ends of the dash bar", "plate", "bolts"}


def test_slender_spacers() -> None:
    """Two tubes at radius r: 2 (GJ / L + r^2 12 E I / (L^3 (1 + shear))), a shear of 12 E I / (G A' L^2)."""
    length, outer, inner, r = 60.0, 12.0, 9.0, 12.0
    bracket = bolt_group([(-60, 0), (60, 0)], thickness_mm=8.0, stiffer=100.0)
    assert bracket.casing is not None
    bosses = tuple(b.but(at_mm=(b.at_mm[0], b.at_mm[1], -length)) for b in bracket.casing.bosses)
    tube = Spacer(outer_mm=outer, inner_mm=inner, length_mm=length)
    bolts = tuple(b.but(spacer=tube) if b.name.startswith("c") else b for b in bracket.bolts)
    plates, solved = whole(bracket.but(casing=bracket.casing.but(bosses=bosses), bolts=bolts))
    works = works_of(solved.bracket, plates, solved.states[0])
    agrees(sum(works.values()), COUPLE * turn(solved), 1e-6, source=SOURCE, name="work of all, spacers, N.mm")
    second = pi / 64.0 * (outer**4 - inner**4)
    # Cowper's 0.5 to 0.6 for such a ring; shear is a fiftieth here.
    shear = 12.0 * E * second / (G * 0.56 * pi / 4.0 * (outer**2 - inner**2) * length**2)
    stiffness = 2.0 * (G * 2.0 * second / length + r**2 * 12.0 * E * second / (length**3 * (1.0 + shear)))
    agrees(works["spacers"], COUPLE**2 / stiffness, 0.03, source=SOURCE, name="two slender spacers, N.mm")


def test_beds_take_what_stiffer_ones_would_save() -> None:
    """The turn falls by the beds' share of it for each part by which all beds are made stiffer."""
    bracket = bolt_group([(-60, 0), (60, 0)], thickness_mm=12.0)
    plates, solved = whole(bracket)
    step = 0.01
    works = works_of(bracket, plates, solved.states[0])
    by_step = (turn(solved) - turn(whole(bracket, 1.0 + step)[1])) / step * COUPLE
    agrees(works["bolts"], by_step, 0.02, source="difference of two solutions", name="beds, work, N.mm")
