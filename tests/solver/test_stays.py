"""A stay of the dash bar decides a verdict, on somebody's word; how its ends are held is told."""

from __future__ import annotations

from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.fixing import BarEnd, BarStay, RectangularTube
from solver.analyse import analyse
from solver.assumptions import assumptions_of
from solver.kept_plates import KeptPlates
from tests.brackets import one_piece


def on_a_slender_bar(*stays: BarStay) -> Bracket:
    """Return a stout plate on a pinned tube, 25 mm deep, which a pull along the shaft bends."""
    bracket = one_piece(couple_nm=12.0, thickness_mm=8)
    assert bracket.dash_bar is not None
    pin = BarEnd(kind="pinned", seen_by="a test")
    across = (bracket.dash_bar.from_mm[1], 8 + 12.5)
    bar = bracket.dash_bar.but(
        section=RectangularTube(width_mm=25, height_mm=32, wall_mm=2.5),
        from_mm=(-600, *across),
        to_mm=(600, *across),
        ends=(pin, pin),
        stays=stays,
    )
    limits = bracket.limits.but(pull_movement_mm=0.7)
    bolts = tuple(b if b.pad_diameter_mm is None else b.but(pad_diameter_mm=20) for b in bracket.bolts)
    assert bracket.casing is not None
    # deep enough for the next longer bolt sold: M8 x 30
    deep = bracket.casing.but(bosses=tuple(b.but(depth_mm=22) for b in bracket.casing.bosses))
    loads = bracket.loads.but(pull_n=100.0)
    return bracket.but(casing=deep, bolts=bolts, dash_bar=bar, limits=limits, loads=loads)


def test_a_stay_along_the_shaft_turns_a_fail_into_a_pass() -> None:
    stay = BarStay(
        station_mm=600, direction=(0, 0, 1), stiffness_n_per_mm=(20_000, 40_000), seen_by="the welder"
    )
    kept = KeptPlates()
    bare, stayed = (analyse(on_a_slender_bar(*stays), kept=kept) for stays in ((), (stay,)))
    assert bare.verdict == "fail"
    assert any(reason.startswith("movement with a pull uses") for reason in bare.reasons)
    assert stayed.verdict == "pass"
    assert any("A stay holds the dash bar 600 mm" in words for words in stayed.assumptions)
    unseen = findings_of(on_a_slender_bar(stay.but(seen_by=None)))
    assert [f.code for f in unseen if f.bars_verdict] == ["stay-unseen"]


def test_an_end_is_assumed_with_its_figures() -> None:
    bracket = on_a_slender_bar()
    assert bracket.dash_bar is not None
    measured = BarEnd(kind="stiffness", bending_nm_per_deg=(400, 800), seen_by="a dial gauge")
    flange = BarEnd(kind="bolted flange", seen_by="the welder")
    told, _ = assumptions_of(bracket.but(dash_bar=bracket.dash_bar.but(ends=(measured, flange))), {})
    assert (
        "The dash bar is a straight beam; one end is held in bending by 400 to 800 N.m/deg (a dial gauge),"
        " the other a bolted flange, taken as pinned and again as welded (the welder); what it ends in does"
        " not move."
    ) in told
