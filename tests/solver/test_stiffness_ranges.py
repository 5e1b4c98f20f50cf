"""A range of stiffness that begins at nought: its low side holds nothing, its high side all it says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.casing import Bearing, Column, ColumnMount
from geometry.fixing import BarEnd, BarStay
from geometry.placing import place_bolts
from geometry.stiffness_ranges import ALL_LOW, HighEnds, ends_together, range_names
from solver.assumptions import assumptions_of
from solver.clamped_bolt import clamped_bolts
from solver.connections import slip_used
from solver.evaluation import State, loaded
from solver.free_motions import free_motions
from solver.load_cases import load_cases
from solver.solved import Solved, solved, with_inputs
from tests.brackets import NO_BEARINGS, linked, one_piece, straps

LAYOUTS = ("side by side", "in line", "across")
HIGH = 10_000.0


def bearings(low: float) -> Column:
    return Column(
        held_by="bearings",
        bearings=tuple(
            Bearing(name=name, station_mm=at, stiffness_n_per_mm=(low, HIGH))
            for name, at in (("lower", -200), ("upper", 300))
        ),
    )


def mount(low: float) -> Column:
    held = ColumnMount(name="m", station_mm=200, sideways_n_per_mm=(low, HIGH), along_n_per_mm=(low, HIGH))
    return Column(held_by="donor mount", mount=held)


def words_of(bracket: Bracket) -> list[tuple[str, tuple[str, ...]]]:
    linkage, plates = linked(bracket)
    return [(m.words, m.driven_by) for m in free_motions(bracket, linkage, plates, load_cases(bracket))]


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("column", [bearings, mount])
def test_what_may_hold_nothing_stops_no_free_motion(layout: str, column: Callable[[float], Column]) -> None:
    loose = words_of(straps(layout, column=NO_BEARINGS))
    assert loose
    assert words_of(straps(layout, column=column(0.0))) == loose
    assert words_of(straps(layout, column=column(HIGH))) != loose


def test_only_what_holds_the_column_has_ranges() -> None:
    """Bearings and a mount may both stand in the file: the one that does not hold it is nobody's range."""
    both = bearings(0.0).but(mount=mount(0.0).mount)
    names = [range_names(straps("across", column=both.but(held_by=by))) for by in ("bearings", "donor mount")]
    assert names == [range_names(straps("across", column=column(0.0))) for column in (bearings, mount)]
    assert all(len(some) == 2 for some in names)
    assert not set(names[0]) & set(names[1])
    assert range_names(straps("across", column=both.but(held_by="nothing"))) == ()
    assert range_names(straps("across", column=Column(held_by="donor mount"))) == ()
    assert range_names(straps("across", column=bearings(HIGH))) == ()


def test_a_stated_stiffness_and_a_flange_are_ranges_of_the_bar_and_a_weld_or_pin_is_none() -> None:
    bracket = one_piece(column=NO_BEARINGS)
    bar = bracket.dash_bar
    assert bar is not None
    stated = BarEnd(kind="stiffness", bending_nm_per_deg=(100.0, 900.0))
    known = BarEnd(kind="stiffness", bending_nm_per_deg=(500.0, 500.0))
    flange, weld, pin, free = (BarEnd(kind=k) for k in ("bolted flange", "welded", "pinned", "free"))
    strut = BarStay(station_mm=400, direction=(0, 1, 0), stiffness_n_per_mm=(100.0, 900.0))

    def names(first: BarEnd, last: BarEnd, *stays: BarStay) -> tuple[str, ...]:
        return range_names(bracket.but(dash_bar=bar.but(ends=(first, last), stays=stays)))

    assert names(weld, pin) == names(free, known) == names(BarEnd(kind="stiffness"), weld) == ()
    (first,), (last,), (stay,) = names(stated, weld), names(pin, flange), names(weld, weld, strut)
    assert set(names(flange, stated, strut)) == {first, last, stay}
    assert len({first, last, stay}) == 3
    # each is given its own name, however many there are
    assert len(set(names(stated, stated, strut, strut))) == 4


def again(whole: Solved, column: Column) -> Solved:
    """The same plates with another column, nothing else kept."""
    return solved(whole.bracket.but(column=column), whole.plates, whole.surveys, whole.sections)


def state(whole: Solved, taken: str, high: HighEnds) -> State:
    return next(s for s in whole.states if (s.taken, s.high) == (taken, high))


@pytest.mark.parametrize("layout", ["side_by_side", "in_line"])
@pytest.mark.parametrize("column", [bearings, mount])
@pytest.mark.parametrize("taken", ["stuck", "all slipped"])
def test_each_side_is_that_of_its_own_column(
    layout: str,
    column: Callable[[float], Column],
    taken: str,
    request: pytest.FixtureRequest,
) -> None:
    whole: Solved = request.getfixturevalue(layout)
    range_from_nought = again(whole, column(0.0))
    every = frozenset(range_names(range_from_nought.bracket))
    for high, alone in ((ALL_LOW, again(whole, NO_BEARINGS)), (every, again(whole, column(HIGH)))):
        found, expected = state(range_from_nought, taken, high), state(alone, taken, ALL_LOW)
        assert found.holds == expected.holds
        held = [case.rest for case, holds in zip(whole.cases, expected.holds, strict=True) if holds]
        assert held
        loads = np.column_stack(held)
        assert found.response.casing @ loads == pytest.approx(
            expected.response.casing @ loads, rel=1e-6, abs=1e-9
        )


def test_the_quick_path_keeps_both_sides_apart(side_by_side: Solved) -> None:
    whole = again(side_by_side, bearings(0.0))
    quick = with_inputs(whole, whole.bracket.but(loads=whole.bracket.loads.but(pull_n=120.0)))
    ends = {s.high: s.holds for s in quick.states if s.taken == "all slipped"}
    assert not all(ends[ALL_LOW])
    assert all(ends[frozenset(range_names(whole.bracket))])


def two_bearings(*pairs: tuple[float, float]) -> Column:
    places = ((-200, "lower"), (300, "upper"))
    return Column(
        held_by="bearings",
        bearings=tuple(
            Bearing(name=name, station_mm=at, stiffness_n_per_mm=pair)
            for (at, name), pair in zip(places, pairs, strict=True)
        ),
    )


def test_a_soft_bearing_beside_a_stiff_one_is_a_state_of_its_own(flat: Solved) -> None:
    ranged = again(flat, two_bearings((500, 50_000), (500, 50_000)))
    for high, pairs in (
        ({"bearing 1"}, ((50_000, 50_000), (500, 500))),
        ({"bearing 2"}, ((500, 500), (50_000, 50_000))),
    ):
        alone = again(flat, two_bearings(*pairs))
        for taken in ("stuck", "all slipped"):
            found, expected = state(ranged, taken, frozenset(high)), state(alone, taken, ALL_LOW)
            assert found.response.casing == pytest.approx(expected.response.casing, rel=1e-9, abs=1e-15)


def test_nothing_between_the_ends_asks_more_than_the_ends(flat: Solved) -> None:
    """Between its ends one stiffness moves a force one way only (Sherman and Morrison, 1950, from memory).

    A bearing is two springs of one stiffness, sideways and up, so a hair is left for that.
    """
    pair = (500.0, 50_000.0)
    couple_nm = 50.0

    def most(column: Column) -> tuple[float, np.ndarray]:
        whole = again(flat, column)
        load = loaded(whole.states, whole.cases, couple_nm)
        sizes = np.abs(load.forces.local).max(axis=(0, 2))
        return float(slip_used(load.forces, whole.bolts, whole.bracket.limits.slip_factor).max()), sizes

    ends, sizes = most(two_bearings(pair, pair))
    alike = max(most(two_bearings((k, k), (k, k)))[0] for k in pair)
    assert ends > 1.2 * alike  # what the mixed ends add is no trifle
    random = np.random.default_rng(20261126)
    for _ in range(20):
        first, second = np.exp(random.uniform(*np.log(pair), 2))
        inside, own = most(two_bearings((first, first), (second, second)))
        assert inside <= 1.01 * ends
        assert np.all(own <= 1.01 * sizes)


RANGES = (500.0, HIGH)


def with_stays(count: int) -> Bracket:
    stays = tuple(
        BarStay(station_mm=100.0 * (i + 1), direction=(0, 1, 0), stiffness_n_per_mm=RANGES, seen_by="a test")
        for i in range(count)
    )
    bracket = one_piece(column=two_bearings(RANGES, RANGES))
    assert bracket.dash_bar is not None
    return bracket.but(dash_bar=bracket.dash_bar.but(stays=stays))


@pytest.mark.parametrize(("stays", "states"), [(0, 4), (1, 8), (2, 16), (3, 12), (8, 22)])
def test_every_end_is_taken_with_every_other_while_they_are_few(stays: int, states: int) -> None:
    bracket = with_stays(stays)
    together = ends_together(bracket)
    assert len(set(together)) == len(together) == states
    assert together[0] == ALL_LOW
    assert frozenset(range_names(bracket)) in together
    sentences, _ = assumptions_of(bracket, {})
    told = any("two against the rest are not computed" in words for words in sentences)
    assert told is (stays > 2)


def test_a_flange_and_a_stiffness_that_is_one_figure() -> None:
    bracket = one_piece(column=NO_BEARINGS)
    assert bracket.dash_bar is not None
    flange = BarEnd(kind="bolted flange")
    known = BarEnd(kind="stiffness", bending_nm_per_deg=(40.0, 40.0), seen_by="a test")
    bracket = bracket.but(dash_bar=bracket.dash_bar.but(ends=(flange, known)))
    assert ends_together(bracket) == (ALL_LOW, frozenset({"end 1"}))


@pytest.mark.parametrize(("pair", "said"), [((9e3, 9e3), "(9000 N/mm)"), ((8e3, 9e3), "(8000 to 9000 N/mm)")])
def test_a_range_whose_ends_are_one_is_told_as_one_figure(pair: tuple[float, float], said: str) -> None:
    sentences, _ = assumptions_of(one_piece(column=two_bearings(pair, pair)), {})
    assert any(said in words for words in sentences)


@pytest.mark.parametrize(
    ("pair", "said"), [((12e3, 12e3), "with 12.0 kN"), ((12e3, 14e3), "with 12.0 to 14.0 kN")]
)
def test_so_is_a_preload(pair: tuple[float, float], said: str) -> None:
    bracket = one_piece()
    bolts = {
        name: replace(bolt, preload_low_n=pair[0], preload_high_n=pair[1])
        for name, bolt in clamped_bolts(bracket, place_bolts(bracket)).items()
    }
    sentences, _ = assumptions_of(bracket, bolts)
    assert any(said in words for words in sentences)
