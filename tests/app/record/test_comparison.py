"""Claim against computation, and assumptions by what they weigh."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import pytest

from app.record import judging
from app.record.comparison import Judgements, compare, differs_under, to_look_at
from app.record.judging import judged_for
from app.record.loosenings import Loosening, loosenings_of, weighed
from app.record.profile import Factors, Profile
from app.record.record import Measured, MeasuredThickness
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.fit_up import FitUp
from geometry.fixing import Anchor
from geometry.loads import Claim, Fatigue, Limits, Loads, MotorTorque
from solver.analyse import Judged
from solver.errors import SolverError
from solver.results import CasingMovement, Check, QuickAnswer, Results
from tests.app.record.examples import check, clear_results, locked_bracket, settled_record
from tests.brackets import STIFF_BEARINGS, WEIGHTLESS_STEEL, WELDED, one_piece, welded_strip

STILL = CasingMovement(turn_deg=0.0, lean_deg=0.0, movement_mm=0.0, lash_deg=0.0)


def quick(*checks: Check, moves: bool = True) -> QuickAnswer:
    return QuickAnswer(STILL if moves else None, (), checks, ())


def claimed(**changes: object) -> Bracket:
    bracket = locked_bracket()
    fields: dict[str, object] = {
        "hash": bracket.input_hash(), "verdict": "pass", "holds_to_nm": 90.0, "ended_by": "bolt 1 slips",
        "version": "0.0.9", "date": "2031-01-02",
    }  # fmt: skip
    return bracket.but(claim=Claim.model_validate(fields | changes))


def lines(bracket: Bracket, judged: Judgements, profile: Profile = Profile()) -> str:  # noqa: B008
    return " | ".join(compare(bracket, settled_record(), profile, judged).claim_lines)


def test_a_claim_is_told_with_then_and_now() -> None:
    said = lines(claimed(), Judgements(under_profile=clear_results("fail", holds_to_nm=40.0)))
    assert "Claimed on 2031-01-02 with version 0.0.9: pass, holding to 90.0 N.m, then bolt 1 slips." in said
    assert "Then pass, now fail" in said
    assert "then 90.0 N.m, now 40.0 N.m" in said


def test_a_claim_of_other_inputs_is_stale_and_no_claim_is_said() -> None:
    stale = claimed(hash="0" * 64)
    found = compare(stale, settled_record(), Profile(), Judgements(under_profile=clear_results()))
    assert found.claim_state == "stale"
    assert "stale" in found.claim_lines[1]
    assert "Then" not in " ".join(found.claim_lines)
    assert lines(locked_bracket(), Judgements()) == "The file holds no claim."


def test_a_claim_is_held_against_the_same_limits() -> None:
    """Under the certifier's limits it fails; under its own it still passes, so the claim itself was right."""
    loose = claimed().but(limits=Limits(turn_deg=0.4))
    loose = loose.but(claim=loose.claim.but(hash=loose.input_hash()))  # type: ignore[union-attr]
    judged = Judgements(
        under_profile=clear_results("fail"), under_file=clear_results("pass", holds_to_nm=90.0)
    )
    assert "Then pass, now" not in lines(loose, judged)
    found = compare(loose, settled_record(), Profile(), judged)
    assert found.verdict == "fail"
    assert found.under_builder.startswith("Under the builder's own limits: PASS")
    assert "turn or lean 0.4 where the program's defaults has 0.1" in found.under_builder


def test_the_builders_limits_are_left_out_where_the_verdict_is_the_same() -> None:
    loose = locked_bracket().but(limits=Limits(turn_deg=0.4))
    judged = Judgements(under_profile=clear_results(), under_file=clear_results())
    assert differs_under(loose, Profile())
    assert compare(loose, settled_record(), Profile(), judged).under_builder == ""


def test_a_doubtful_file_has_no_verdict() -> None:
    doubt = Finding("key-unknown", "doubt", "file", {"key": "x", "near": ""})
    assert Judgements(under_profile=clear_results(), file_findings=(doubt,)).verdict == "no verdict"
    assert Judgements(under_profile=clear_results("fail"), file_findings=(doubt,)).verdict == "fail"
    assert Judgements().verdict == "no verdict"


def test_pencil_carries_no_verdict() -> None:
    results = clear_results()
    pencil = replace(results, accuracy=replace(results.accuracy, refined=False))
    assert Judgements(under_profile=pencil).verdict == "no verdict"


def loose_one() -> Bracket:
    """Return a bracket with one assumption of every kind that is looser or unusual."""
    bracket = one_piece(column=STIFF_BEARINGS)
    bolts = tuple(
        b.but(face_friction=0.3, scatter=0.1, thread_friction=0.1)
        if b.name == "1"
        else b.but(preload_n=(15e3, 17e3))
        if b.name == "2"
        else b.but(preload_n=(15e3, 17e3), tightening_nm=None)
        if b.name == "3"
        else b
        for b in bracket.bolts
    )
    loads = Loads(
        couple=MotorTorque(motor_nm=3, ratio=10),
        factor=1.2,
        pull_n=100,
        weight_g=1,
        fatigue=Fatigue(full_cycles=1000),
    )
    return bracket.but(
        fit_up=FitUp(hole_mm=0.1),
        bolts=bolts,
        loads=loads,
        limits=Limits(turn_deg=0.3, yield_factor=1.2, movement_mm=0.1),
        anchors=(Anchor(name="pillar", at_mm=(0, 0, 0), word="the builder says so"),),
        materials=(WEIGHTLESS_STEEL,),
        plates=tuple(p.but(material="weightless steel", thickness_tolerance_mm=0.0) for p in bracket.plates),
    )


def test_stainless_bolts_are_weighed_with_the_friction_of_dry_threads() -> None:
    bracket = one_piece(column=STIFF_BEARINGS)
    bolts = tuple(b.but(grade="A2-70") for b in bracket.bolts)
    (found,) = (one for one in loosenings_of(bracket.but(bolts=bolts)) if "stainless" in one.words)
    assert found.usual is not None
    assert {b.thread_friction for b in found.usual.bolts} == {0.2}


def test_a_weld_full_at_its_ends_is_loose() -> None:
    said = [one.words for one in loosenings_of(welded_strip(full_at_ends=True))]
    assert "weld foot is said to be full at its ends" in said


def test_every_loose_assumption_is_found() -> None:
    said = " | ".join(one.words for one in loosenings_of(loose_one()))
    for piece in (
        "turn or lean of the casing 0.3 deg, looser than the usual 0.1 deg",
        "yield over allowable stress 1.2, looser",
        "movement under the couple 0.1 mm, stricter than usual",
        "factor 1.2 on the couple, lower than the usual 2",
        "a pull of 100 N at the wheel, lower than the usual 300 N",
        "weight x 1, lower than the usual x 3",
        "worked out from motor torque",
        "1000 full reversals over its life are fewer than the usual 200000",
        "said to be no more than 0 mm thinner than its 6 mm, truer than sheets usually are",
        "fit of the pieces, hole out of place, mm: 0.1, more lenient than the usual 0.3",
        "face friction above bare steel's usual 0.15 to 0.2, bolt 1",
        "surer than a torque wrench's 25 %, bolt 1",
        "thread friction below the usual 0.12, so that the same torque clamps more, bolt 1",
        "preload stated in place of a torque, bolt 2",
        "preload stated and no torque given, bolt 3",
        "ends of dash bar taken as held in bending, seen by the welder",
        "bearings said to hold the column as well",
        "anchor pillar taken as immovable: the builder says so",
        "material weightless steel with figures of the builder's own",
    ):
        assert piece in said


def test_a_bracket_by_the_book_has_only_what_rests_on_a_word() -> None:
    kinds = {one.kind for one in loosenings_of(one_piece(column=STIFF_BEARINGS))}
    assert kinds == {"dash bar", "column"}
    assert WELDED.kind == "welded"


def test_each_default_is_put_in_alone() -> None:
    loose = loose_one()
    by_words = {one.words.split(",")[0]: one for one in loosenings_of(loose)}
    pull = by_words["a pull of 100 N at the wheel"].usual
    assert pull is not None
    assert pull == loose.but(loads=loose.loads.but(pull_n=300))
    pinned = by_words["ends of dash bar taken as held in bending"].usual
    assert pinned is not None
    assert pinned.dash_bar is not None
    assert [end.kind for end in pinned.dash_bar.ends] == ["pinned", "pinned"]


def test_the_heaviest_comes_first_and_what_cannot_be_measured_last() -> None:
    bracket = locked_bracket()
    light, heavy, loose, word, anchor = (
        Loosening("light", "limit", "0.1", bracket),
        Loosening("heavy", "friction", "0.15", bracket),
        Loosening("holds alone", "column", "nothing", bracket),
        Loosening("word", "material", ""),
        Loosening("anchor", "anchor", ""),
    )
    found = weighed(
        (light, heavy, word, loose, anchor),
        quick(check("turn", 0.2), check("slip", 0.5)),
        {
            0: quick(check("turn", 0.3), check("slip", 0.5)),
            1: quick(check("turn", 0.1), check("slip", 0.9)),
            3: quick(moves=False),
        },
        None,
    )
    assert [one.loosening.words for one in found] == ["holds alone", "heavy", "light", "anchor", "word"]
    assert math.isinf(found[0].rise or 0.0)
    assert found[1].rise == pytest.approx(0.4)
    assert found[1].words == "heavy; with 0.15, the use of slip rises by 40 % of its allowable"
    assert found[2].rise == pytest.approx(0.1)
    assert found[4].words == "word; not measured, look at it"


def test_what_gets_lighter_weighs_nothing_and_rules_count_for_nothing() -> None:
    one = Loosening("loose", "limit", "0.1", locked_bracket())
    before = quick(check("turn", 0.5), check("edge", 0.5, "rule"))
    after = quick(check("turn", 0.4), check("edge", 3.0, "rule"))
    found = weighed((one,), before, {0: after}, None)
    assert found[0].words == "loose; with 0.1, no check uses more"


def test_the_yield_factor_is_weighed_by_the_stresses_that_the_quick_path_leaves_out() -> None:
    """Allowable stress is yield over the factor: from 1.2 to 1.5 a use of 60 % becomes 75 %."""
    bracket = locked_bracket().but(limits=Limits(yield_factor=1.2))
    results = clear_results("pass", checks=(check("stress, plate front", 0.6), check("slip", 0.9)))
    found = weighed(loosenings_of(bracket), None, {}, results)
    factor = next(one for one in found if one.loosening.kind == "limit")
    assert factor.rise == pytest.approx(0.15)
    assert factor.check == "stress, plate front"


def test_unused_bosses_and_bolts_that_lack_something_are_named() -> None:
    bracket = locked_bracket()
    casing = bracket.casing
    assert casing is not None
    more = casing.but(bosses=(*casing.bosses, casing.bosses[0].but(name="b2")))
    bare = bracket.bolts[0].but(grade=None, tightening_nm=None, locking=None)
    found = compare(bracket.but(casing=more, bolts=(bare,)), settled_record(), Profile(), Judgements())
    assert found.unused_bosses == ("b2",)
    assert [line.split(" without ")[1] for line in found.fasteners] == [
        "grade", "torque and preload", "locking",
    ]  # fmt: skip


def test_what_cannot_be_computed_begins_with_this_bracket() -> None:
    found = to_look_at(one_piece(column=STIFF_BEARINGS), ("weld quality",))
    assert found[0] == "the ends of dash bar (welded and welded): what they end in, and the welds"
    assert found[-1] == "weld quality"


def test_the_quick_path_weighs_what_two_whole_analyses_differ_by() -> None:
    loose = one_piece(column=STIFF_BEARINGS, couple_nm=8.0).but(limits=Limits(slip_factor=0.5))
    record = settled_record(loose)
    judged = judged_for(loose, record, Profile())
    assert judged.trouble == ""
    assert judged.under_profile is not None
    assert judged.under_file is not None
    assert judged.built is None
    own, file = (
        max(c.used for c in results.checks if c.name.startswith("slip"))
        for results in (judged.under_profile, judged.under_file)
    )
    assert own < 1.0, "else lash enters, and no share of slip"
    assert own == pytest.approx(2.5 * file, rel=1e-6)
    found = compare(loose, record, Profile(), judged)
    factor = next(one for one in found.loosenings if one.loosening.kind == "limit")
    assert factor.check.startswith("slip")
    assert factor.rise == pytest.approx(own - file, rel=0.02)
    assert all(one.rise is not None for one in found.loosenings)


def test_what_was_built_otherwise_is_judged_too(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Bracket] = []

    def analyse(bracket: Bracket, **_: object) -> Results:
        asked.append(bracket)
        return clear_results("marginal")

    monkeypatch.setattr(judging, "analyse", analyse)
    monkeypatch.setattr(judging, "analyse_in_turn", lambda b, **_: iter([Judged(clear_results(), None)]))
    bracket = locked_bracket()
    thin = Measured(thicknesses=(MeasuredThickness(plate="front", thickness_mm=5.5),))
    record = settled_record().but(measured=thin)
    judged = judged_for(bracket, record, Profile())
    assert [b.plates[0].thickness_mm for b in asked] == [5.5]
    found = compare(bracket, record, Profile(), judged)
    assert found.built_line.startswith("As built: MARGINAL for 30 N.m")
    reasons = "; ".join(clear_results("marginal").reasons)
    assert reasons
    assert found.built_line.endswith(f"; because: {reasons}")


def test_an_analysis_that_cannot_be_made_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(_: Bracket, **__: object) -> Iterator[Judged]:
        raise SolverError("the plate cannot be meshed")

    monkeypatch.setattr(judging, "analyse_in_turn", breaks)
    judged = judged_for(locked_bracket(), settled_record(), Profile())
    assert judged.trouble == "the plate cannot be meshed; there is no verdict."
    assert compare(locked_bracket(), settled_record(), Profile(), judged).verdict == "no verdict"


def test_a_check_that_has_no_end_without_an_assumption_is_said_in_whole_words() -> None:
    one = Loosening("bearings hold it too", "column", "nothing else holding it", locked_bracket())
    (found,) = weighed((one,), quick(check("turn", 0.2)), {0: quick(check("turn", math.inf))}, None)
    assert found.words == "bearings hold it too; with nothing else holding it, turn has no end"


def test_a_profile_that_allows_more_than_usual_says_so_with_the_verdict() -> None:
    """A turn of 0.1 deg is common practice; a lane that allows 5 makes a pass of what is seen to lean."""
    bracket = locked_bracket()
    judged = Judgements(under_profile=clear_results())
    loose = Profile(name="lane 4", limits=Limits(turn_deg=5.0, movement_mm=10.0))
    line = compare(bracket, settled_record(bracket), loose, judged).verdict_line
    assert "judged under lane 4, which is LOOSER than the program's defaults: " in line
    assert "turn or lean of the casing 5 deg instead of 0.1 deg" in line
    assert "10 mm instead of 0.2 mm" in line
    mild = Profile(name="lane 6", factors=Factors(stated=1.0, pull_n=0))
    line = compare(bracket, settled_record(bracket), mild, judged).verdict_line
    assert "LOOSER than the program's defaults: factor on a stated couple 1 instead of 2, pull at" in line
    strict = Profile(name="lane 5", limits=Limits(turn_deg=0.05))
    assert "LOOSER" not in compare(bracket, settled_record(bracket), strict, judged).verdict_line
