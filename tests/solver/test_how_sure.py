"""How sure a check is: what its band is the sum of, and that the verdict takes its upper end."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bar_section import FlatBar, RectangularTube
from geometry.findings import findings_of
from geometry.loads import Fatigue, StatedCouple, TorqueCount, TorqueMeters
from geometry.placing import place_bolts
from solver.analyse import analyse
from solver.asides import how_sure_of
from solver.assumptions import assumptions_of
from solver.checking import check_all
from solver.how_sure import HowSure
from solver.kept_plates import KeptPlates
from solver.mesh_stage import meshed_plate
from solver.stages import Stage, stage_on
from tests.brackets import one_piece, solved_on

BRACKET = one_piece(mass_kg=0.0)


@pytest.fixture(scope="module")
def kept() -> KeptPlates:
    return KeptPlates()


@pytest.fixture(scope="module")
def first(kept: KeptPlates) -> Stage:
    return stage_on(BRACKET, kept.first(BRACKET, place_bolts(BRACKET)))


@pytest.fixture(scope="module")
def sure(first: Stage, kept: KeptPlates) -> HowSure:
    return how_sure_of(BRACKET, first, kept)[0]


def test_a_check_without_a_factor_takes_all_that_the_couple_leaves_open(sure: HowSure) -> None:
    # couple alone and no weight: what moves is in proportion to it
    assert sure.couple["turn"] == pytest.approx(0.25, abs=1e-9)
    assert sure.couple["movement"] == pytest.approx(0.25, abs=1e-9)
    # a factor of 2 holds more than the 25 % that a stated couple leaves open
    assert sure.couple.get("slip", 0.0) == 0.0


def test_a_small_factor_leaves_the_rest_to_the_band(first: Stage, kept: KeptPlates) -> None:
    # all but in proportion to the couple: the plate weighs a little
    mild = BRACKET.but(loads=BRACKET.loads.but(factor=1.1, pull_n=0, weight_g=0))
    stage = stage_on(mild, first.meshed)
    found = how_sure_of(mild, stage, kept)[0].couple
    assert found["bolt shear"] == pytest.approx(1.25 / 1.1 - 1.0, rel=0.01)


def test_a_measured_couple_is_surer(first: Stage, kept: KeptPlates) -> None:
    measured = BRACKET.but(loads=BRACKET.loads.but(couple=TorqueMeters(output_nm=34, input_nm=4)))
    found = how_sure_of(measured, stage_on(measured, first.meshed), kept)[0].couple
    assert found["turn"] == pytest.approx(0.05 * 34.0 / 30.0, abs=1e-9)


@pytest.mark.parametrize(("output", "left"), [(34.0, 4.0), (130.0, 100.0), (-34.0, -4.0), (2000.0, 1970.0)])
def test_each_torque_meter_is_off_by_its_own_share(output: float, left: float) -> None:
    """A twentieth of the larger reading (common practice, no source), which is more of what is left."""
    loads = BRACKET.loads.but(couple=TorqueMeters(output_nm=output, input_nm=left))
    assert loads.couple_may_be_more == pytest.approx(min(1.0, 0.05 * abs(output) / 30.0))
    assert loads.but(couple_uncertainty=0.02).couple_may_be_more == 0.02


def test_couples_of_a_spectrum_may_be_as_much_more_as_the_couple(first: Stage, kept: KeptPlates) -> None:
    # the same reversals said in two ways
    found = []
    for fatigue in (
        Fatigue(full_cycles=50_000),
        Fatigue(spectrum=(TorqueCount(torque_nm=30, count=50_000),)),
    ):
        bracket = BRACKET.but(loads=BRACKET.loads.but(fatigue=fatigue))
        part = how_sure_of(bracket, stage_on(bracket, first.meshed), kept)[0].couple
        found.append({name: share for name, share in part.items() if name.startswith("fatigue")})
    said, listed = found
    assert said["fatigue of bolts"] == pytest.approx(0.25, abs=1e-9)
    assert listed == pytest.approx(said, abs=1e-9)


@pytest.mark.parametrize("check", ["stress, plate", "net section, plate", "slip", "opening", "turn"])
def test_footprints_are_the_worse_of_beds_halved_and_doubled(check: str, first: Stage, sure: HowSure) -> None:
    """Held against condensing the plate anew on other beds."""
    places = place_bolts(BRACKET)
    usual = {c.name: c.used for c in check_all(first.solved, first.couple_nm, slide=False).checks}
    rises = [0.0]
    for factor in (0.5, 2.0):
        plate = meshed_plate(BRACKET, 0, first.meshed[0].condensed.mesh, places, bed_factor=factor)
        other = check_all(solved_on(BRACKET, [plate]), first.couple_nm, slide=False)
        rises.append({c.name: c.used for c in other.checks}[check] / usual[check] - 1.0)
    assert sure.footprints[check] == pytest.approx(max(rises), abs=0.005)


def test_a_measured_sheet_has_no_part_for_its_thickness(first: Stage, kept: KeptPlates) -> None:
    measured = BRACKET.but(plates=(BRACKET.plates[0].but(thickness_tolerance_mm=0),))
    found = how_sure_of(measured, stage_on(measured, first.meshed), kept)[0]
    assert not any(found.thickness.values())
    _, flagged = assumptions_of(measured, {})
    assert any("truer than sheets usually are" in words for words in flagged)


def test_the_wall_of_the_dash_bar_is_as_thin_as_it_may_be(first: Stage, kept: KeptPlates) -> None:
    """Held against the bracket with that wall typed."""
    bar = BRACKET.dash_bar
    assert bar is not None
    tube = bar.but(section=RectangularTube(width_mm=40, height_mm=40, wall_mm=2))
    usual = BRACKET.but(dash_bar=tube)
    thin = BRACKET.but(dash_bar=tube.but(section=tube.section.but(wall_mm=1.8)))
    found = how_sure_of(usual, stage_on(usual, first.meshed), kept)[0].wall
    used = {
        name: {c.name: c.used for c in check_all(stage_on(b, first.meshed).solved, 30.0, slide=False).checks}
        for name, b in (("usual", usual), ("thin", thin))
    }
    for check in ("dash bar", "turn", "bearing"):
        assert found[check] == pytest.approx(used["thin"][check] / used["usual"][check] - 1.0, abs=1e-6)
        assert found[check] > 0.01, check
    solid = BRACKET.but(dash_bar=bar.but(section=FlatBar(width_mm=40, height_mm=40)))
    assert not how_sure_of(solid, stage_on(solid, first.meshed), kept)[0].wall
    told, _ = assumptions_of(usual, {})
    assert any("its wall up to 0.2 mm thinner than typed, EN 10219-2" in words for words in told)


def test_the_band_is_the_sum_of_its_parts_and_decides() -> None:
    """A turn within its limit as computed fails at the upper end, and the couple is named for it."""
    gentle = BRACKET.but(loads=BRACKET.loads.but(couple=StatedCouple(couple_nm=10)))
    plain = analyse(gentle)
    turn = next(c for c in plain.checks if c.name == "turn")
    assert turn.band == pytest.approx(sum(part.share for part in turn.parts))
    assert turn.mesh_band < turn.band
    assert not any(np.isnan(part.share) or part.share < 0.0 for c in plain.checks for part in c.parts)
    limit = turn.demand * (1.0 + turn.band - 0.02)
    held = gentle.but(limits=gentle.limits.but(turn_deg=limit, marginal_used=1.0))
    stated = analyse(held)
    assert stated.verdict == "fail"
    assert "turn uses" in stated.reasons[0]
    assert "most of it the couple" in stated.reasons[0]
    surer = analyse(held.but(loads=held.loads.but(couple_uncertainty=0.1)))
    assert not any("turn" in reason for reason in surer.reasons)
    assert surer.verdict != "fail"
    assert any("surer than the usual 25%" in words for words in surer.flagged)


def test_pencil_has_the_mesh_alone() -> None:
    assert all(not c.parts for c in analyse(BRACKET, refine=False).checks)


def test_a_tolerance_past_a_quarter_of_the_sheet_is_doubted() -> None:
    odd = BRACKET.but(plates=(BRACKET.plates[0].but(thickness_tolerance_mm=2.6),))
    codes = {f.code: f for f in findings_of(odd)}
    assert codes["tolerance-absurd"].severity == "doubt"
    assert codes["tolerance-absurd"].values["tolerance_mm"] == 2.6
