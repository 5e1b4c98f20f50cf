"""What a ladder varies, and what follows a change."""

from __future__ import annotations

import pytest

from app.editing.refused import EditRefused
from app.ladder.bolt_changes import usual_torque_nm
from app.ladder.keys import KEYS, varied
from app.ladder.steps import ladder_of
from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.fixing import RoundTube
from geometry.nuts import prevailing_nm
from geometry.placing import place_bolts
from tests.brackets import one_piece, welded_strip


def one_step(text: str, bracket: Bracket | None = None) -> Bracket:
    (step,) = ladder_of(one_piece() if bracket is None else bracket, [varied(text)]).steps
    assert step.refused == ""
    assert step.bracket is not None
    return step.bracket


def refused(text: str, bracket: Bracket | None = None) -> str:
    (step,) = ladder_of(one_piece() if bracket is None else bracket, [varied(text)]).steps
    assert step.bracket is None
    return step.refused


def test_thickness_of_all_plates_or_of_one_in_any_unit() -> None:
    assert one_step("plate.thickness=4").plates[0].thickness_mm == 4.0
    assert one_step("plate.plate.thickness=1/4 in").plates[0].thickness_mm == pytest.approx(6.35)
    assert "there is no plate other; there is: plate" in refused("plate.other.thickness=4")
    assert "not a quantity" in refused("plate.thickness=thick")


def test_bolt_size_takes_holes_and_torque_along_and_leaves_bosses() -> None:
    ladder = ladder_of(one_piece(), [varied("bolt.size=M10")])
    bracket = ladder.steps[0].bracket
    assert bracket is not None
    assert [bracket.bolt(n).size for n in "1234567"] == ["M8"] * 3 + ["M10"] * 4
    assert [bracket.plates[0].opening(n).diameter_mm for n in "14"] == [9.0, 11.0]
    assert bracket.bolt("4").tightening_nm == usual_torque_nm(bolt_size("M10"), "8.8") == 37.5
    assert bracket.bolt("1").tightening_nm == 22.0
    said = " ".join(ladder.steps[0].said)
    assert "11 mm, ISO 273 medium" in said
    assert "bolts 1, 2 and 3 go into bosses and keep their size" in said
    assert "M10 8.8 tightened to 37.5 N.m, the usual torque" in said


def test_what_a_nut_was_measured_to_take_goes_with_the_nut() -> None:
    """An M10 nut of class 8 may take 10.5 N.m, one of class 10 and M8 8 N.m (ISO 2320, from memory)."""
    bracket = one_piece()
    measured = bracket.with_bolt(bracket.bolt("4").but(locking="locking nut", prevailing_nm=2.0))
    ladder = ladder_of(measured, [varied("bolt.size=M8,M10")])
    same, larger = (step.bracket for step in ladder.steps)
    assert same is not None
    assert larger is not None
    assert same.bolt("4").prevailing_nm == 2.0
    assert prevailing_nm(larger.bolt("4")) == 10.5
    assert "it may take 10.5 N.m of the torque" in " ".join(ladder.steps[1].said)
    assert prevailing_nm(one_step("bolt.grade=10.9", measured).bolt("4")) == 8.0
    assert prevailing_nm(one_step("bolt.grade=8.8", measured).bolt("4")) == 2.0


def test_usual_torques_are_those_of_stock_bolts() -> None:
    from app.editing.stock_sheet import TIGHTENING_NM

    for name, torque in TIGHTENING_NM.items():
        assert usual_torque_nm(bolt_size(name), "8.8") == pytest.approx(torque, rel=0.05)


def test_a_bolt_without_preload_is_given_none() -> None:
    bare = one_piece()
    bare = bare.but(bolts=tuple(b.but(tightening_nm=None) for b in bare.bolts))
    assert {b.tightening_nm for b in one_step("bolt.size=M10", bare).bolts} == {None}


def test_an_unknown_size_or_a_grade_of_another_system_is_a_refused_step() -> None:
    assert "M9" in refused("bolt.size=M9")
    assert "inch" in refused("bolt.grade=grade 5")


def test_number_spreads_bolts_evenly_between_the_outer_two() -> None:
    bracket = one_step("bolt.number=3")
    bar = [b for b in bracket.bolts if b.joins.to == "dash bar"]
    holes = [bracket.plates[0].opening(b.hole).centre_mm[0] for b in bar]
    assert sorted(holes) == pytest.approx([-60.0, 0.0, 60.0])
    assert len(bracket.bolts) == 6
    assert len(place_bolts(bracket)) == 6
    assert "whole number" in refused("bolt.number=2.5")


def test_fold_radius_and_bar() -> None:
    folded = one_piece(folded=True)
    assert one_step("fold.foot.radius=12", folded).plates[0].folds[0].inside_radius_mm == 12.0
    assert "no plate has a fold" in refused("fold.radius=12")
    section = one_step("bar.outer=50").dash_bar.section
    assert (section.width_mm, section.height_mm) == (50.0, 50.0)
    assert one_step("bar.wall=2").dash_bar.section.wall_mm == 2.0
    round_bar = one_piece()
    bar = round_bar.dash_bar.but(section=RoundTube(outer_mm=40, wall_mm=3))
    assert one_step("bar.outer=45", round_bar.but(dash_bar=bar)).dash_bar.section.outer_mm == 45.0
    assert "has no width" in refused("bar.width=45", round_bar.but(dash_bar=bar))


def test_throat_of_all_welds_or_of_one() -> None:
    strip = welded_strip(leg_mm=5.0)
    for text in ("weld.throat=3", "weld.foot.throat=3"):
        (weld,) = one_step(text, strip).welds
        assert (weld.throat_mm, weld.leg_mm) == (3.0, None)
    assert "there is no weld top; there is: foot" in refused("weld.top.throat=3", strip)
    assert "no weld whose throat" in refused("weld.throat=3")


@pytest.mark.parametrize("text", ["plate.thickness=3", "plate.thickness=8", "fold.radius=16", "bar.outer=50"])
def test_plates_still_meet_the_bar_after_a_change(text: str) -> None:
    folded = one_piece(folded=True)
    before = {p.bolt: p.gap_mm for p in place_bolts(folded) if p.partner == "dash bar"}
    ladder = ladder_of(folded, [varied(text)])
    bracket = ladder.steps[0].bracket
    assert bracket is not None
    after = {p.bolt: p.gap_mm for p in place_bolts(bracket) if p.partner == "dash bar"}
    assert after == pytest.approx(before, abs=0.02)
    assert not {f.code for f in findings_of(bracket)} & {"gap-unfilled", "faces-overlap", "plate-in-bar"}
    assert any("the dash bar is taken" in words for words in ladder.steps[0].said)


def test_values_stand_least_first_and_once() -> None:
    assert varied("plate.thickness=8,3,10,3").values == ("3", "8", "10")
    assert varied("bolt.size=M10,M6,M8").values == ("M6", "M8", "M10")
    assert varied("bolt.grade=10.9,8.8").values == ("8.8", "10.9")
    assert varied("plate.material=S355,S235").values == ("S235", "S355")


def test_products_run_through_all_and_twice_or_too_many_are_refused() -> None:
    ladder = ladder_of(one_piece(), [varied("plate.thickness=3,4"), varied("bolt.size=M8,M10")])
    assert [s.values for s in ladder.steps] == [("3", "M8"), ("3", "M10"), ("4", "M8"), ("4", "M10")]
    assert ladder.words(("3", "M8")) == "plate.thickness 3 mm, bolt.size M8"
    with pytest.raises(EditRefused, match="varied twice"):
        ladder_of(one_piece(), [varied("bar.wall=2"), varied("bar.wall=3")])
    many = ",".join(str(k) for k in range(1, 60))
    with pytest.raises(EditRefused, match="at most 2000"):
        ladder_of(one_piece(), [varied(f"plate.thickness={many}"), varied(f"bar.wall={many}")])


def test_an_unknown_key_names_the_nearest() -> None:
    with pytest.raises(EditRefused, match=r"did you mean plate\.thickness\?"):
        varied("plate.thicknes=3")
    with pytest.raises(EditRefused, match="says no values"):
        varied("plate.thickness")


@pytest.mark.parametrize("span", ["3-5", "3 - 5 mm", "3..5", "3:5", "3 to 5", "2.5\u20134"])
def test_a_range_is_refused_in_a_sentence(span: str) -> None:
    with pytest.raises(EditRefused, match=r"is a range, .* name each, such as plate\.thickness=\d[.5]*,\d"):
        varied(f"plate.thickness={span}")


def test_threads_and_mixed_numbers_are_no_ranges() -> None:
    assert varied("bolt.size=1/4-20,5/16-18").values == ("1/4-20", "5/16-18")
    assert varied("plate.thickness=1-1/2 in").values == ("1-1/2 in",)


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.word)
def test_every_key_is_understood_with_its_own_example(key: object) -> None:
    word = key.word.replace("NAME", "any.name")  # type: ignore[attr-defined]
    found = varied(f"{word}={key.example}")  # type: ignore[attr-defined]
    assert found.key is key
    assert found.name == ("any.name" if "NAME" in key.word else None)  # type: ignore[attr-defined]
