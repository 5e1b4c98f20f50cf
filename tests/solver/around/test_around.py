"""What is said around a bracket: every group blank, sound and wrong; and what that does to a verdict."""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import SimpleNamespace

import numpy as np
import pytest

from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.casing import Envelope, ShaftJoint
from geometry.fixing import RectangularTube, RoundTube
from geometry.installation import (
    Cable,
    Collapse,
    DonorWiring,
    Installation,
    JointInLine,
    KeptClear,
    Room,
    ShaftLine,
    ShaftPart,
    Wiring,
)
from geometry.loads import Limits
from geometry.placing import place_bolts
from solver.around import spanners
from solver.around.around import around
from solver.around.collapse import casing_stations_mm
from solver.around.line import AroundLine, AroundStanding
from solver.load_cases import load_cases
from solver.verdict import verdict_of
from tests.brackets import one_piece, welded_strip

SOUND_CABLE = Cable(length_m=2.0, area_mm2=16.0)
SOUND_WIRING = Wiring(
    current_a=60.0,
    feed=SOUND_CABLE,
    back=SOUND_CABLE,
    insulation_c=125.0,
    bundled=1,
    fuse_a=80.0,
    fuse_kind="slow, bolted in",
    earth_point="battery's own clamp",
)
SOUND_COLLAPSE = Collapse(
    parts=(
        ShaftPart(name="upper tube", stations_mm=(150.0, 400.0), moves="slides", held_by_bracket="no"),
        ShaftPart(name="lower tube", stations_mm=(-100.0, 160.0), moves="fixed", held_by_bracket="yes"),
    ),
    travel_mm=90.0,
    donor_travel_mm=80.0,
)


def _with(**groups: object) -> Bracket:
    return one_piece().but(installation=Installation.model_validate(groups))


def _standing(lines: Sequence[AroundLine], name: str) -> str:
    return next(line.standing for line in lines if line.name == name)


def _said(lines: Sequence[AroundLine], name: str) -> str:
    return next(line.words for line in lines if line.name == name)


def test_every_group_is_open_where_nobody_said_anything() -> None:
    lines = around(one_piece())
    for group in ("shaft joints", "cable and fuse", "collapse travel", "room"):
        assert "open" in {line.standing for line in lines if line.group == group}
    assert not {line.standing for line in lines} & {"fails", "broken"}


def test_a_joint_bent_beyond_its_makers_angle_fails() -> None:
    joints = (
        JointInLine(name="upper", angle_deg=20.0, most_angle_deg=30.0),
        JointInLine(name="lower", angle_deg=41.0, most_angle_deg=35.0),
    )
    lines = around(_with(shaft=ShaftLine(joints=joints)))
    assert _standing(lines, "angle of joint upper") == "met"
    assert _standing(lines, "angle of joint lower") == "fails"
    assert _standing(lines, "evenness") == "open"
    assert "lower" in _said(lines, "evenness")


def test_a_yoke_a_quarter_turn_out_is_broken_and_in_phase_is_met() -> None:
    def lines(phase_deg: float) -> tuple[AroundLine, ...]:
        joints = (
            JointInLine(name="upper", angle_deg=30.0, plane_deg=0.0),
            JointInLine(name="lower", angle_deg=28.0, plane_deg=0.0, phase_deg=phase_deg),
        )
        return around(_with(shaft=ShaftLine(joints=joints, sliding_joint="yes")))

    assert _standing(lines(0.0), "evenness") == "met"
    assert _standing(lines(180.0), "evenness") == "met"
    assert _standing(lines(90.0), "evenness") == "broken"
    assert "90 deg" in _said(lines(90.0), "phasing")


def test_no_sliding_joint_is_broken_and_typed_joints_load_nothing_unless_said_where() -> None:
    joints = (JointInLine(name="only", angle_deg=10.0, most_angle_deg=30.0),)
    lines = around(_with(shaft=ShaftLine(joints=joints, sliding_joint="no")))
    assert _standing(lines, "thrust into the casing") == "broken"
    assert _standing(lines, "side couple") == "open"


def test_measured_joints_load_the_casing_as_typed_ones_do() -> None:
    places = ((0.0, 0.0, 410.0), (0.0, 0.0, -150.0), (0.0, -80.0, -150.0 - 80.0 * 3.0**0.5))
    measured = _with(shaft=ShaftLine(places_mm=places, joints=(JointInLine(name="lower"),)))
    cases = [case for case in load_cases(measured) if case.kind == "shaft joint"]
    assert len(cases) == 16
    by_hand = 1000.0 * measured.loads.couple_factor * 3.0**-0.5
    # it bends toward -Y: most about Y, half as much about X
    assert max(case.per_couple[4] for case in cases) == pytest.approx(by_hand, rel=1e-9)
    assert max(case.per_couple[3] for case in cases) == pytest.approx(by_hand / 2.0, rel=1e-9)


@pytest.mark.parametrize(("typed_deg", "counts_deg"), [(0.0, 30.0), (12.0, 30.0), (45.0, 45.0)])
def test_of_a_joint_both_typed_and_measured_the_larger_angle_counts_once(
    typed_deg: float, counts_deg: float
) -> None:
    places = ((0.0, 0.0, 410.0), (0.0, 0.0, -150.0), (0.0, -80.0, -150.0 - 80.0 * 3.0**0.5))
    measured = _with(shaft=ShaftLine(places_mm=places, joints=(JointInLine(name="lower"),)))
    both = measured.but(shaft_joints=(ShaftJoint(name="lower", station_mm=-150, angle_deg=typed_deg),))
    cases = [case for case in load_cases(both) if case.kind == "shaft joint"]
    assert len({case.name for case in cases}) == len(cases) == 16
    by_hand = 1000.0 * both.loads.couple_factor * math.tan(math.radians(counts_deg))
    # typed it bends toward X, measured toward -Y
    axis = 3 if counts_deg == typed_deg else 4
    assert max(case.per_couple[axis] for case in cases) == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize(
    ("places", "word"),
    [
        (((0.0, 0.0, 0.0),), "one place makes no shaft"),
        (((0.0, 0.0, 0.0), (0.0, 0.0, 0.2), (0.0, 0.0, 90.0)), "are the same"),
        (((0.0, 0.0, 0.0), (0.0, 0.0, 90.0), (0.0, 0.0, 20.0)), "check their order"),
    ],
)
def test_places_that_are_no_shaft_are_told(places: tuple[tuple[float, float, float], ...], word: str) -> None:
    bracket = _with(shaft=ShaftLine(places_mm=places))
    lines = around(bracket)
    assert _standing(lines, "shaft") == "open"
    assert word in _said(lines, "shaft")
    assert not [case for case in load_cases(bracket) if case.kind == "shaft joint"]


@pytest.mark.parametrize(
    ("section", "off_mm", "standing"),
    [
        (RectangularTube(width_mm=40, height_mm=40, wall_mm=3), 8.0, "fails"),
        (RectangularTube(width_mm=40, height_mm=40, wall_mm=3), 21.0, "met"),
        (RoundTube(outer_mm=40, wall_mm=3), 8.0, "fails"),
        (RoundTube(outer_mm=40, wall_mm=3), 21.0, "met"),
    ],
)
def test_what_is_kept_clear_meets_the_bar_itself_not_its_middle(
    section: RectangularTube | RoundTube, off_mm: float, standing: str
) -> None:
    bracket = one_piece()
    bar = bracket.dash_bar
    assert bar is not None
    _, y, z = bar.from_mm
    loom = KeptClear(name="loom", low_mm=(200.0, y + off_mm, z - 10.0), high_mm=(260.0, y + 60.0, z + 10.0))
    room = Installation(room=Room(kept_clear=(loom,), looked_at="the builder", tilt_deg=(0.0, 0.0)))
    lines = around(bracket.but(dash_bar=bar.but(section=section), installation=room))
    assert _standing(lines, "clear: loom") == standing


def test_sound_wiring_is_met() -> None:
    lines = [line for line in around(_with(wiring=SOUND_WIRING)) if line.group == "cable and fuse"]
    assert {line.standing for line in lines} == {"met", "told"}


def test_a_fuse_above_what_the_cable_bears_fails() -> None:
    thin = Cable(length_m=2.0, area_mm2=4.0)
    lines = around(_with(wiring=SOUND_WIRING.but(feed=thin, current_a=30.0)))
    assert _standing(lines, "fuse against cable") == "fails"


def test_a_long_thin_cable_loses_too_much() -> None:
    long = Cable(length_m=4.0, area_mm2=6.0)
    lines = around(_with(wiring=SOUND_WIRING.but(feed=long, back=long, current_a=65.0)))
    assert _standing(lines, "voltage drop") == "broken"


def test_the_drop_of_cold_copper_is_the_resistance_of_the_table() -> None:
    """2 m of 16 mm2 there and back, 1.16 milliohm a metre at 20 C (ISO 6722-1, from memory, unverified)."""
    said = _said(around(_with(wiring=SOUND_WIRING.but(current_a=600.0))), "voltage drop")
    assert f"{600.0 * 4.0 * 1.16e-3:.2f} V at 20 C" in said


def test_the_donors_thicker_cable_and_smaller_fuse_rule() -> None:
    lines = around(_with(wiring=SOUND_WIRING.but(donor=DonorWiring(area_mm2=25.0, fuse_a=60.0))))
    assert _standing(lines, "cable beside the donor's") == "broken"
    assert _standing(lines, "fuse beside the donor's") == "broken"
    thin_return = SOUND_WIRING.but(back=Cable(length_m=2.0, area_mm2=10.0), donor=DonorWiring(area_mm2=16.0))
    assert _standing(around(_with(wiring=thin_return)), "cable beside the donor's") == "broken"


def test_blank_wiring_names_what_is_blank() -> None:
    lines = around(_with(wiring=Wiring(feed=Cable(gauge=6))))
    assert "length of the feed" in _said(lines, "voltage drop")
    assert "insulation" in _said(lines, "what the cable bears")
    assert _standing(lines, "fuse against cable") == "open"


def test_collapse_sound_bridged_short_and_blank() -> None:
    assert {
        line.standing for line in around(_with(collapse=SOUND_COLLAPSE)) if line.group == "collapse travel"
    } == {"met"}
    slides, fixed = SOUND_COLLAPSE.parts
    bridged = SOUND_COLLAPSE.but(parts=(slides.but(held_by_bracket="yes"), fixed))
    assert _standing(around(_with(collapse=bridged)), "part upper tube") == "fails"
    assert _standing(around(_with(collapse=SOUND_COLLAPSE.but(travel_mm=40.0))), "travel left") == "fails"
    near = SOUND_COLLAPSE.but(parts=(slides.but(stations_mm=(20.0, 300.0)), fixed))
    assert _standing(around(_with(collapse=near)), "way of part upper tube") == "fails"
    unsaid = SOUND_COLLAPSE.but(parts=(slides.but(held_by_bracket=None), fixed.but(moves=None)))
    lines = around(_with(collapse=unsaid))
    assert _standing(lines, "part upper tube") == _standing(lines, "part lower tube") == "open"


def test_the_casing_lies_between_its_stations() -> None:
    casing = one_piece().casing
    assert casing is not None
    block = Envelope(low_mm=(-60.0, -75.0, -130.0), high_mm=(65.0, 70.0, -4.0))
    assert casing_stations_mm(casing.but(envelope=block, station_mm=250.0)) == (120.0, 246.0)


def test_room_sound_and_blocked() -> None:
    knees = KeptClear(name="knees", low_mm=(-200.0, -400.0, 50.0), high_mm=(200.0, -150.0, 400.0))
    room = Room(kept_clear=(knees,), looked_at="the builder", tilt_deg=(0.0, 0.0))
    lines = around(_with(room=room))
    assert _standing(lines, "clear: knees") == "met"
    high = knees.but(high_mm=(200.0, -40.0, 400.0), low_mm=(-200.0, -400.0, 0.0))
    assert _standing(around(_with(room=room.but(kept_clear=(high,)))), "clear: knees") == "fails"
    assert _standing(around(_with(room=room.but(looked_at=None))), "clearance") == "open"


def test_a_bracket_on_the_dash_bar_ties_down_a_casing_that_tilts() -> None:
    room = Room(
        looked_at="the builder", tilt_deg=(-5.0, 5.0), pivot_mm=(0.0, 0.0, -100.0), casing_tilts="yes"
    )
    assert _standing(around(_with(room=room)), "tilt") == "fails"
    welded = welded_strip(anchor=False).but(installation=Installation(room=room))
    assert _standing(around(welded), "tilt") == "fails"
    held = welded_strip().but(installation=Installation(room=room))
    assert _standing(around(held), "what tilts") == "open"
    assert "anchor floor" in _said(around(held), "what tilts")


def test_a_column_that_tilts_into_the_bar_fails_and_one_that_tilts_away_does_not() -> None:
    room = Room(
        looked_at="the builder",
        tilt_deg=(-8.0, 0.0),
        pivot_mm=(0.0, 0.0, 10.0),
        casing_tilts="no",
        column_diameter_mm=36.0,
    )
    folded = one_piece(folded=True)
    assert folded.dash_bar is not None
    away = folded.but(installation=Installation(room=room))
    assert _standing(around(away), "tilt") == "met"
    into = folded.but(installation=Installation(room=room.but(tilt_deg=(0.0, 44.0))))
    assert _standing(around(into), "tilt") == "fails"


def test_a_foot_folded_over_a_bolt_leaves_a_socket_no_room() -> None:
    bracket = one_piece(folded=True)
    plate = bracket.plates[0]
    boss_hole = plate.opening("1")
    assert boss_hole.kind == "hole"
    assert _standing(around(bracket), "spanners") == "told"
    long_foot = tuple(
        corner.but(at_mm=(corner.at_mm[0], corner.at_mm[1] + 60.0)) if corner.at_mm[1] > 0 else corner
        for corner in plate.outline
    )
    over = plate.but(
        outline=long_foot,
        folds=tuple(fold.but(angle_deg=165.0, from_mm=(-75, 60), to_mm=(75, 60)) for fold in plate.folds),
    )
    lines = around(bracket.with_plate(over))
    blocked = [line for line in lines if line.name.startswith("spanner on bolt")]
    assert blocked
    assert any(line.words.startswith("plate stands") for line in blocked)


def test_what_stands_nearest_under_a_socket_is_told() -> None:
    bracket = one_piece()
    place, bolt = place_bolts(bracket)[0], bracket.bolts[0]
    face = place.mating_mm - place.thickness_mm * place.axis
    inside = np.array([face - along * place.axis for along in (12.0, 5.0, 30.0)])
    solids = SimpleNamespace(in_the_way=lambda _: ("casing", inside))
    blocked = spanners._blocked(place, bolt, bolt_size(bolt.size), solids)  # type: ignore[arg-type]
    assert blocked is not None
    assert blocked.at_mm == pytest.approx(5.0)


def test_what_fails_around_makes_the_verdict_fail_and_what_is_broken_makes_it_marginal() -> None:
    def verdict(standing: AroundStanding, *, refined: bool = True) -> str:
        line = AroundLine("room", "tilt", standing, "it runs into the bar")
        word, reasons = verdict_of((), (), None, (), Limits(), solved=True, refined=refined, around=(line,))
        assert word == "pass" or any("it runs into the bar" in reason for reason in reasons)
        return word

    assert verdict("fails") == "fail"
    assert verdict("broken") == "marginal"
    assert verdict("open") == verdict("met") == verdict("told") == "pass"
    assert verdict("fails", refined=False) == "no verdict"


@pytest.mark.parametrize("pivot_mm", [-150.0, -151.0, -152.3, -200.0, -233.0])
@pytest.mark.parametrize("thickness_mm", [1.0, 1.5, 3.0])
def test_a_column_that_tilts_into_a_thin_sheet_fails_wherever_its_pivot_is(
    thickness_mm: float, pivot_mm: float
) -> None:
    """A column of 30 mm through a hole of 40 mm, 13 mm off the axis at 5 deg over 150 mm (kinematics)."""
    bracket = one_piece(thickness_mm=thickness_mm)
    assert bracket.casing is not None
    away = Envelope(low_mm=(-50, -50, -400), high_mm=(50, 50, -390))
    room = Room(
        looked_at="the builder",
        tilt_deg=(-5.0, 5.0),
        pivot_mm=(0.0, 0.0, pivot_mm),
        casing_tilts="no",
        column_diameter_mm=30.0,
    )
    apart = bracket.but(casing=bracket.casing.but(envelope=away))
    assert _standing(around(apart.but(installation=Installation(room=room))), "tilt") == "fails"
    still = room.but(tilt_deg=(-1.0, 1.0))
    assert _standing(around(apart.but(installation=Installation(room=still))), "tilt") == "met"


def test_a_small_block_within_a_sheet_the_casing_or_the_bar_is_not_clear() -> None:
    """Smaller than the way between the places that are looked at of each of them."""
    bracket = one_piece(thickness_mm=2.0)
    assert bracket.dash_bar is not None
    _, y, z = bracket.dash_bar.from_mm
    for (x0, y0, z0), standing in (
        ((-62.0, 2.0, -1.0), "fails"),
        ((-10.0, -10.0, -60.0), "fails"),
        ((30.0, y - 2.0, z - 2.0), "fails"),
        ((-62.0, 2.0, 3.0), "met"),
    ):
        loom = KeptClear(name="loom", low_mm=(x0, y0, z0), high_mm=(x0 + 3.0, y0 + 3.0, z0 + 4.0))
        room = Room(kept_clear=(loom,), looked_at="the builder", tilt_deg=(0.0, 0.0))
        lines = around(bracket.but(installation=Installation(room=room)))
        assert _standing(lines, "clear: loom") == standing, (x0, y0, z0)
