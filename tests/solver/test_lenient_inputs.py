"""What is more lenient than usual is marked beside every verdict, of several bolts in one sentence."""

from __future__ import annotations

import pytest

from geometry.bar_section import FlatBar
from geometry.bracket import Bracket
from geometry.loads import Fatigue, TorqueCount
from solver.assumptions import assumptions_of
from tests.brackets import one_piece, welded_strip


def flagged(bracket: Bracket) -> tuple[str, ...]:
    return assumptions_of(bracket, {})[1]


def with_bolts(**changes: object) -> Bracket:
    """Return a bracket, two of whose bolts are changed and called by two words each."""
    bracket = one_piece()
    first, second, *rest = bracket.bolts
    changed = (first.but(name="top left", **changes), second.but(name="bottom left", **changes))
    return bracket.but(bolts=(*changed, *rest))


def test_nothing_is_marked_where_all_is_usual() -> None:
    assert flagged(one_piece()) == ()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"thread_friction": 0.05},
            "friction 0.05 in the thread of bolts top left, bottom left is lower than the usual 0.12:"
            " the same torque then draws it tighter",
        ),
        (
            {"face_friction": 0.3},
            "friction 0.3 on the faces of bolts top left, bottom left is higher than bare steel's usual"
            " 0.15 to 0.2",
        ),
        (
            {"scatter": 0.1},
            "preload of bolts top left, bottom left may be off by 10%: a torque wrench gives 25 %",
        ),
        (
            {"scatter": 0.248},
            "preload of bolts top left, bottom left may be off by 24.8%: a torque wrench gives 25 %",
        ),
        ({"locking": None}, "nothing is said of the locking of bolts top left, bottom left"),
    ],
)
def test_lenient_bolts_are_marked(changes: dict[str, object], words: str) -> None:
    assert flagged(with_bolts(**changes)) == (words,)


def test_a_stated_preload_hangs_on_no_thread() -> None:
    assert flagged(with_bolts(thread_friction=0.05, scatter=0.1, preload_n=(9000, 15000))) == ()


def test_a_preload_stated_as_surer_than_a_wrench_gives_is_marked() -> None:
    assert flagged(with_bolts(preload_n=(9000, 11000))) == (
        "preload of bolts top left, bottom left is stated and may be off by 10%: a torque wrench gives 25 %",
    )
    assert flagged(with_bolts(preload_n=(0, 0))) == ()


@pytest.mark.parametrize(
    ("fatigue", "words"),
    [
        (Fatigue(full_cycles=1000), ("1000 full reversals over its life are fewer than the usual 200000",)),
        (Fatigue(full_cycles=300_000), ()),
        (
            Fatigue(spectrum=(TorqueCount(torque_nm=2, count=1_000_000),)),
            ("no couple of the spectrum of reversals reaches the 30 N.m it is held to",),
        ),
        (
            Fatigue(spectrum=(TorqueCount(torque_nm=30, count=10), TorqueCount(torque_nm=9, count=90))),
            ("100 full reversals over its life are fewer than the usual 200000",),
        ),
        (Fatigue(spectrum=(TorqueCount(torque_nm=30, count=200_000),)), ()),
    ],
)
def test_a_short_life_is_marked(fatigue: Fatigue, words: tuple[str, ...]) -> None:
    bracket = one_piece()
    assert flagged(bracket.but(loads=bracket.loads.but(fatigue=fatigue))) == words


def test_a_weld_said_to_be_full_at_its_ends_is_marked() -> None:
    assert "weld foot is said to be full at its ends" in flagged(welded_strip(full_at_ends=True))
    assert not any("full at its ends" in words for words in flagged(welded_strip()))


def test_a_dry_stainless_thread_taken_as_greased_is_marked() -> None:
    (words,) = flagged(with_bolts(grade="A2-70"))
    assert words.startswith("friction 0.12 in the stainless thread of bolts top left, bottom left is that of")
    assert "the same torque then clamps less" in words
    assert flagged(with_bolts(grade="A2-70", thread_friction=0.2)) == ()
    assert flagged(with_bolts(grade="A2-70", preload_n=(9000, 15000))) == ()


def test_it_is_told_what_a_bolt_clamps_of_a_tube_and_that_a_pad_is_part_of_it() -> None:
    """A bolt right through a tube squeezes it; a loose pad is a packing (common practice, no source)."""
    bracket = one_piece()
    assert bracket.dash_bar is not None
    wall = "clamps the wall that the plate lies on, with its nut inside"
    pad = "is one piece with the dash bar or anchor"
    solid = bracket.but(dash_bar=bracket.dash_bar.but(section=FlatBar(width_mm=40, height_mm=40)))
    padded = bracket.but(bolts=tuple(b.but(pad_height_mm=2) for b in bracket.bolts))
    for one, told in ((bracket, (True, False)), (solid, (False, False)), (padded, (True, True))):
        words = " ".join(assumptions_of(one, {})[0])
        assert (wall in words, pad in words) == told
