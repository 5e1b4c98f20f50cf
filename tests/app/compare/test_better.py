"""Which layout is called better, and when none is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.compare.better import better_of
from app.compare.comparison import compare
from app.compare.judged import Judged
from app.compare.layout import Layout
from solver.results import FrictionShare, Results, Verdict
from tests.app.example_results import example_bracket, example_results, with_free_motion


def judged(name: str, results: Results | None, *, pencil: bool = False) -> Judged:
    return Judged(Layout(name, example_bracket()), results, pencil=pencil)


def holding(verdict: Verdict, couple_nm: float) -> Results:
    return replace(example_results(verdict), holds_to_nm=couple_nm)


@pytest.mark.parametrize("held_nm", [1.0, 71.3, 900.0])
def test_a_fail_never_beats_a_pass_however_much_it_holds_to(held_nm: float) -> None:
    failing, passing = judged("A", holding("fail", 900.0)), judged("B", holding("pass", held_nm))
    for pair, number in (((failing, passing), 1), ((passing, failing), 0)):
        found = better_of(pair)
        assert found.better == number
        assert found.sentence.startswith("B is better: it passes")


@pytest.mark.parametrize("verdict", ["pass", "marginal", "fail"])
def test_none_is_better_while_one_has_no_verdict(verdict: Verdict) -> None:
    blank = replace(example_results("no verdict"), reasons=("the couple is blank",))
    found = better_of((judged("A", example_results(verdict)), judged("B", blank)))
    assert found.better is None
    assert "B has no verdict (the couple is blank)" in found.sentence


def test_pencil_makes_none_better() -> None:
    found = better_of(
        (judged("A", example_results("pass")), judged("B", example_results("fail"), pencil=True))
    )
    assert found.better is None
    assert "pencil" in found.sentence


def test_what_is_not_judged_yet_makes_none_better() -> None:
    found = better_of((judged("A", example_results("pass")), judged("B", None)))
    assert found.better is None
    assert "not judged yet" in found.sentence


def test_unequal_loads_make_none_better_and_are_named() -> None:
    one = example_bracket()
    other = one.but(loads=one.loads.but(pull_n=100.0))
    both = [
        Judged(Layout("A", one), example_results("pass")),
        Judged(Layout("B", other), example_results("fail")),
    ]
    found = compare(both)
    assert found.better is None
    assert not found.same_ground
    assert "pull at the wheel" in found.sentence
    assert "pull at the wheel" in found.ground_words
    assert [d.what for d in found.differences] == ["pull at the wheel"]
    assert found.differences[0].sentence == "pull at the wheel: 300 N in A, 100 N in B"


def test_limits_count_as_ground() -> None:
    one = example_bracket()
    other = one.but(limits=one.limits.but(turn_deg=0.5))
    both = [Judged(Layout("A", one), example_results()), Judged(Layout("B", other), example_results())]
    assert "limits" in compare(both).sentence


def test_of_two_that_pass_the_one_that_holds_more_is_better_with_both_couples() -> None:
    found = better_of((judged("A", holding("pass", 60.0)), judged("B", holding("pass", 71.3))))
    assert found.better == 1
    assert "it holds to 71.3 N.m, A to 60 N.m" in found.sentence


def test_figures_no_surer_than_their_bands_make_none_better() -> None:
    found = better_of((judged("A", holding("pass", 70.0)), judged("B", holding("pass", 71.3))))
    assert found.better is None
    assert "Neither is better by more than the figures are sure of" in found.sentence


def test_of_two_that_fail_none_is_better() -> None:
    found = better_of((judged("A", holding("fail", 10.0)), judged("B", holding("fail", 25.0))))
    assert found.better is None
    # a name of a layout, such as `its sawn twin`, begins no sentence
    assert "Both fail: none is better; B comes nearest: it holds to 25 N.m" in found.sentence


def test_a_free_motion_is_the_reason() -> None:
    found = better_of(
        (judged("A", example_results("pass")), judged("B", with_free_motion(example_results())))
    )
    assert found.better == 0
    assert "nothing but friction stops it" in found.sentence


def test_leaning_on_friction_outweighs_holding_more() -> None:
    leaning = replace(holding("marginal", 90.0), friction_share=FrictionShare(0.7, 800.0, 240.0))
    found = better_of((judged("A", leaning), judged("B", holding("marginal", 60.0))))
    assert found.better == 1
    assert "A leans on friction: 70 %" in found.sentence


def test_several_worse_ones_are_each_told() -> None:
    three = (
        judged("A", example_results("marginal")),
        judged("B", example_results("pass")),
        judged("C", example_results("fail")),
    )
    found = better_of(three)
    assert found.better == 1
    assert "A is marginal" in found.sentence
    assert "C fails" in found.sentence


def test_more_than_four_are_refused() -> None:
    with pytest.raises(ValueError, match="two to four"):
        compare([judged(str(k), None) for k in range(5)])
