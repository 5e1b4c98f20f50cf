"""The other hand of drive: everything mirrored in space, and judged the same."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from app.editing.other_hand import for_other_hand
from app.editing.variants import with_variant
from geometry.bar_section import Channel
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.casing import ShaftJoint
from geometry.casing_in_space import boss_in_space, casing_to_space
from geometry.findings import findings_of
from geometry.fixing import Anchor, BarStay
from geometry.fold_map import FoldMap
from geometry.installation import Installation, JointInLine, KeptClear, Room, ShaftLine
from geometry.loads import ExtraCase
from geometry.placing import place_bolts
from geometry.plate import Corner, CutOut, FoldLine, Placement, Slot
from solver.analyse import analyse
from solver.around.around import around
from solver.around.shaft_joints import ripple_of
from solver.dash_bar import bar_model
from solver.load_cases import load_cases
from tests.brackets import one_piece

MIRROR = np.diag([-1.0, 1.0, 1.0])
SAMPLES = sorted((Path(__file__).parents[3] / "sample_brackets").glob("*.bracket.json"))


LINE = ShaftLine(
    places_mm=((0, 0, 400), (0, 0, -190), (40, -90, -420), (10, -240, -700)),
    joints=(JointInLine(name="u", plane_deg=20), JointInLine(name="l", plane_deg=70, phase_deg=25)),
)
ROOM = Room(
    kept_clear=(KeptClear(name="pedal", low_mm=(20, -500, -300), high_mm=(120, -190, -40)),),
    tilt_deg=(-3, 4),
    pivot_mm=(5, 0, -100),
)


def lopsided() -> Bracket:
    """Return a bracket in which nothing is symmetrical."""
    bracket = one_piece(folded=True)
    plate = bracket.plates[0]
    fold = FoldLine(
        name="lip", from_mm=(40, -60), to_mm=(75, 0), angle_deg=70, direction="down", inside_radius_mm=3
    )
    assert bracket.casing is not None
    assert bracket.dash_bar is not None
    plate = plate.but(
        placement=Placement(
            origin_mm=(3, 4, 5),
            x_axis=(1, 0.2, 0.1),
            y_axis=(0, 1, -0.3),
            origin_on="front",
            still_at_mm=(-60, 20),
        ),
        folds=(*plate.folds, fold),
        openings=(
            *plate.openings,
            Slot(name="s", centre_mm=(-55, -30), length_mm=20, width_mm=6, angle_deg=25),
            CutOut(
                name="w",
                corners=(
                    Corner(at_mm=(-10, 55), radius_mm=2),
                    Corner(at_mm=(12, 55)),
                    Corner(at_mm=(12, 60), arc_via_mm=(0, 70)),
                    Corner(at_mm=(-10, 60)),
                ),
            ),
        ),
    )
    casing = bracket.casing.but(clocking_deg=17, mass_centre_mm=(12, 3, -50))
    return bracket.but(
        plates=(plate,),
        casing=casing,
        shaft_joints=(ShaftJoint(name="lower", station_mm=-200, angle_deg=20, plane_deg=30),),
        installation=Installation(shaft=LINE, room=ROOM),
        anchors=(Anchor(name="a", at_mm=(30, 100, 5), word="w"), Anchor(name="b", word="w")),
        dash_bar=bracket.dash_bar.but(to_mm=(500, 180, 50), up=(0.1, 1, 0.2)),
        loads=bracket.loads.but(
            extra=(ExtraCase(name="kerb", couple_nm=20, force_n=(100, 20, 30), at_mm=(50, 10, 5)),)
        ),
    )


def test_twice_is_the_same_bracket() -> None:
    bracket = lopsided()
    bracket = with_variant(bracket, "v", bracket.but(bolts=()))
    assert for_other_hand(for_other_hand(bracket)) == bracket
    assert for_other_hand(bracket) != bracket
    assert for_other_hand(bracket).variants[0].plates == for_other_hand(bracket).plates


def test_twice_leaves_directions_as_they_were_typed() -> None:
    """180 less (180 less -33.1) is -33.099999999999994 in binary figures, and the file said so."""
    joint = ShaftJoint(name="u", station_mm=-200, angle_deg=20, plane_deg=-33.1)
    line = ShaftLine(joints=(JointInLine(name="l", plane_deg=-128.1),))
    bracket = lopsided().but(shaft_joints=(joint,), installation=Installation(shaft=line))
    assert for_other_hand(for_other_hand(bracket)) == bracket


def test_every_bolt_boss_and_face_is_mirrored_in_space() -> None:
    bracket = lopsided()
    other = for_other_hand(bracket)
    here, there = place_bolts(bracket), place_bolts(other)
    assert len(here) == len(there) == 7
    for a, b in zip(here, there, strict=True):
        assert (a.bolt, a.mating_side, a.partner) == (b.bolt, b.mating_side, b.partner)
        for name in ("mating_mm", "axis", "partner_mm"):
            assert getattr(b, name) == pytest.approx(MIRROR @ getattr(a, name), abs=1e-9)
        assert (b.offset_mm, b.tilt_deg, b.gap_mm) == pytest.approx(
            (a.offset_mm, a.tilt_deg, a.gap_mm), abs=1e-6
        )
    assert bracket.casing is not None
    assert other.casing is not None
    for one, two in zip(bracket.casing.bosses, other.casing.bosses, strict=True):
        for p, q in zip(boss_in_space(bracket.casing, one), boss_in_space(other.casing, two), strict=True):
            assert q == pytest.approx(MIRROR @ p, abs=1e-12)
    envelope = bracket.casing.envelope
    mirrored = other.casing.envelope
    assert casing_to_space(other.casing, mirrored.low_mm) == pytest.approx(
        MIRROR @ casing_to_space(bracket.casing, (envelope.high_mm[0], *envelope.low_mm[1:]))
    )


def test_the_whole_folded_sheet_is_mirrored_in_space() -> None:
    plate, other = lopsided().plates[0], for_other_hand(lopsided()).plates[0]
    rng = np.random.default_rng(1)
    flat = np.column_stack([rng.uniform(-75, 75, 200), rng.uniform(-60, 140, 200), rng.uniform(0, 6, 200)])
    there = FoldMap(other).to_space(flat * [-1, 1, 1])
    assert there == pytest.approx(FoldMap(plate).to_space(flat) @ MIRROR, abs=1e-9)
    axes = FoldMap(other).axes
    assert np.linalg.det(axes) == pytest.approx(1.0)


def test_what_stands_around_is_mirrored() -> None:
    bracket = lopsided()
    other = for_other_hand(bracket)
    here, there = (b.installation.shaft for b in (bracket, other))
    assert here is not None
    assert there is not None
    ripples = ripple_of(here), ripple_of(there)
    assert ripples[0] is not None
    assert ripples[1] is not None
    assert ripples[1].low == pytest.approx(ripples[0].low, rel=1e-9)
    typed = [
        ripple_of(line.but(places_mm=()))
        for line in (here.but(joints=_angled(here)), there.but(joints=_angled(there)))
    ]
    assert typed[0] is not None
    assert typed[1] is not None
    assert typed[1].low == pytest.approx(typed[0].low, rel=1e-9)
    assert [(x.name, x.standing) for x in around(other)] == [(x.name, x.standing) for x in around(bracket)]


def _angled(line: ShaftLine) -> tuple[JointInLine, ...]:
    return tuple(joint.but(angle_deg=angle) for joint, angle in zip(line.joints, (30, 22), strict=True))


def test_loads_are_mirrored() -> None:
    # A force is mirrored; a moment is mirrored and turned round.
    force, moment = np.array([-1, 1, 1]), np.array([1, -1, -1])
    along = {"right": "left", "left": "right"}
    bracket = lopsided()
    here = {case.name: case for case in load_cases(bracket)}
    other = load_cases(for_other_hand(bracket))
    seen = 0
    for case in other:
        name = case.name
        if name.startswith("couple"):
            name = name.replace("couple +", "couple ~").replace("couple -", "couple +").replace("~", "-")
        for word, instead in along.items():
            if name.endswith((f"pull {word}", f"at {word}")):
                name = name.removesuffix(word) + instead
                break
        if name.startswith("weight") and name.endswith("X"):
            name = name.replace("-X", "~").replace("X", "-X").replace("~", "X")
        twins = [here[name]]
        if "shaft joint" in name:
            twins = [
                twin
                for key, twin in here.items()
                if key.rpartition(" lower ")[0] == name.rpartition(" lower ")[0]
            ]
        mirror = np.concatenate([force, moment, force])
        assert any(
            case.coefficients(30.0) == pytest.approx(mirror * twin.coefficients(30.0), abs=1e-6)
            for twin in twins
        ), case.name
        seen += 1
    assert seen == len(here) > 20


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem.split(".")[0])
def test_findings_stay_the_same(path: Path) -> None:
    bracket = read_bracket(path).bracket
    assert bracket is not None
    bracket = bracket.but(claim=None)
    here, there = findings_of(bracket), findings_of(for_other_hand(bracket))
    assert [(f.code, f.where) for f in there] == [(f.code, f.where) for f in here]


def test_it_is_judged_the_same() -> None:
    bracket = one_piece(couple_nm=20.0)
    assert bracket.casing is not None
    bracket = bracket.but(
        casing=bracket.casing.but(mass_centre_mm=(15, 5, -60)),
        bolts=tuple(b for b in bracket.bolts if b.name != "7"),
    )
    here = analyse(bracket, refine=False)
    there = analyse(for_other_hand(bracket), refine=False)
    used = {c.name: c.used for c in here.checks}
    assert len(used) > 5
    # The two meshes are not each other's mirror image, so stresses differ by what a coarse mesh gives.
    assert {c.name: c.used for c in there.checks} == pytest.approx(used, rel=0.06, abs=1e-6)
    assert there.holds_to_nm == pytest.approx(here.holds_to_nm, rel=0.06)


def test_an_open_bar_and_its_stays_are_mirrored() -> None:
    """The web stays on the side of the driver, the strut runs the mirrored way from the mirrored place."""
    bracket = one_piece()
    assert bracket.dash_bar is not None
    stay = BarStay(station_mm=200, direction=(1, -2, 0), stiffness_n_per_mm=(1, 2), seen_by="a test")
    channel = Channel(width_mm=30, height_mm=40, wall_mm=3)
    weld, pin = bracket.dash_bar.ends[0], bracket.dash_bar.ends[1].but(kind="pinned")
    bar = bracket.dash_bar.but(section=channel, stays=(stay,), ends=(weld, pin))
    other = for_other_hand(bracket.but(dash_bar=bar))
    assert for_other_hand(other).dash_bar == bar
    mirrored = other.dash_bar
    assert mirrored is not None
    before, after = (bar_model(b, [], 210_000.0, 0.3) for b in (bar, mirrored))
    web = [m.section.middle_mm[0] * m.axes[:, 0] for m in (before, after)]
    np.testing.assert_allclose(web[1], MIRROR @ web[0], atol=1e-9)
    at = [m.places_mm[m.node_at(b.stays[0].station_mm)] for m, b in ((before, bar), (after, mirrored))]
    np.testing.assert_allclose(at[1], MIRROR @ at[0], atol=1e-9)
    assert mirrored.stays[0].direction == (-1, -2, 0)
    assert [end.kind for end in mirrored.ends] == ["pinned", "welded"]
