"""Boss places from calliper distances: hand-made triangles, noise, and what is missing."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.editing.callipers import SHAFT, BossMeasure, MeasuredBosses, boss_places
from app.editing.refused import EditRefused

MARLPIT = {"top": (0.0, 52.0), "right": (50.0, -30.0), "left": (-50.0, -30.0)}


def all_distances(places: Mapping[str, tuple[float, float]]) -> list[BossMeasure]:
    known = {**places, SHAFT: (0.0, 0.0)}
    return [BossMeasure(a, b, math.dist(known[a], known[b])) for a, b in itertools.combinations(known, 2)]


def near(found: MeasuredBosses, places: Mapping[str, tuple[float, float]], within: float) -> bool:
    return all(math.dist(found.places[name], at) < within for name, at in places.items())


def test_a_3_4_5_triangle_by_hand() -> None:
    # a 30 mm above the shaft, b 40 mm to its right: 50 mm apart.
    measures = [BossMeasure("a", SHAFT, 30), BossMeasure("b", "shaft", 40), BossMeasure("a", "b", 50)]
    found = boss_places(measures, ["a", "b"])
    assert near(found, {"a": (0, 30), "b": (40, 0)}, 1e-6)
    assert found.residual_mm < 1e-6
    assert found.words == "the distances agree within 0.00 mm"
    # Named the other way round, the same triangle lies on the other side.
    assert near(boss_places(measures, ["b", "a"]), {"b": (0, 40), "a": (30, 0)}, 1e-6)


def test_an_equilateral_triangle_round_the_shaft() -> None:
    side = 60 * math.sqrt(3)
    measures = [BossMeasure(a, b, side) for a, b in (("1", "2"), ("2", "3"), ("3", "1"))]
    measures += [BossMeasure(SHAFT, name, 60) for name in ("1", "2")]
    found = boss_places(measures, ["1", "2", "3"])
    assert near(found, {"1": (0, 60), "2": (side / 2, -30), "3": (-side / 2, -30)}, 1e-6)


def test_the_order_of_names_says_which_way_round() -> None:
    measures = all_distances(MARLPIT)
    assert near(boss_places(measures, list(MARLPIT)), MARLPIT, 1e-6)
    mirrored = boss_places(measures, ["top", "left", "right"])
    assert near(mirrored, {"top": (0, 52), "left": (50, -30), "right": (-50, -30)}, 1e-6)


def test_a_start_says_how_the_casing_is_clocked() -> None:
    turn = math.radians(35)
    clocked = {
        name: (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn))
        for name, (x, y) in MARLPIT.items()
    }
    rough = {name: (x + 3, y - 2) for name, (x, y) in clocked.items()}
    found = boss_places(all_distances(clocked), ["left", "top", "right"], rough)
    assert near(found, clocked, 3.0)
    assert found.residual_mm < 1e-6
    exact = boss_places(all_distances(clocked), ["left", "top", "right"], clocked)
    assert near(exact, clocked, 1e-6)


def spoilt(measures: list[BossMeasure], pair: set[str], by_mm: float) -> list[BossMeasure]:
    return [
        BossMeasure(m.first, m.second, m.distance_mm + (by_mm if {m.first, m.second} == pair else 0.0))
        for m in measures
    ]


@pytest.mark.parametrize("pair", [{"top", "left"}, {"right", SHAFT}, {"low", "top"}])
def test_the_worst_distance_is_named_above_0_3_mm(pair: set[str]) -> None:
    places = {"top": (0.0, 52.0), "right": (50.0, -30.0), "low": (5.0, -48.0), "left": (-50.0, -30.0)}
    found = boss_places(spoilt(all_distances(places), pair, 2.5), list(places))
    assert found.residual_mm > 0.3
    assert found.residual_mm == max(abs(r) for r in found.by_measure)
    named = found.words.partition(": ")[2].partition(",")[0]
    assert set(named.split(" to ")) == pair
    assert found.words.endswith("is longer than the others allow; measure it again")


def test_with_one_distance_to_spare_the_wrong_one_may_be_another() -> None:
    found = boss_places(spoilt(all_distances(MARLPIT), {"top", "left"}, 4.0), list(MARLPIT))
    assert "it may also be another, there is only one distance to spare" in found.words


@pytest.mark.parametrize(
    ("measures", "said"),
    [
        ([], "boss a has no distances and needs 2: measure shaft to a or a to b"),
        (
            [("a", "b", 50.0), ("b", "c", 50.0)],
            "boss a has 1 distance and needs 2: measure shaft to a or a to c",
        ),
        ([("a", "b", 50.0), ("b", "c", 50.0), ("c", "a", 50.0)], "no distance leads to the shaft"),
        (
            [("a", "b", 50.0), ("b", "c", 50.0), ("c", "a", 50.0), ("a", "shaft", 30.0)],
            "need 5 different distances and there are 4: measure shaft to b or shaft to c",
        ),
        ([("a", "x", 5.0)], "no boss x; there is: a, b, c"),
        ([("a", "a", 5.0)], "from a to itself"),
        ([("a", "b", -5.0)], "a to b is -5 mm: a distance is above zero"),
    ],
)
def test_what_is_missing_is_named(measures: list[tuple[str, str, float]], said: str) -> None:
    with pytest.raises(EditRefused, match=said):
        boss_places([BossMeasure(*m) for m in measures], ["a", "b", "c"])


def test_enough_distances_in_the_wrong_places_leave_a_boss_free() -> None:
    places = {"a": (0.0, 50.0), "b": (50.0, 10.0), "c": (20.0, -50.0), "d": (-50.0, 0.0)}
    measures = [
        m
        for m in all_distances(places)
        if "d" not in (m.first, m.second) and SHAFT not in (m.first, m.second)
    ]
    measures += [
        m for m in all_distances(places) if {m.first, m.second} in ({"a", SHAFT}, {"b", SHAFT}, {"c", SHAFT})
    ]
    measures += [m for m in all_distances(places) if {m.first, m.second} == {"d", "a"}]
    measures.append(BossMeasure("a", "d", measures[-1].distance_mm))
    with pytest.raises(EditRefused, match="boss d has 1 distance"):
        boss_places(measures, list(places))


def test_distances_that_leave_two_bosses_swinging_together_are_refused() -> None:
    places = {
        "a": (0.0, 50.0),
        "b": (45.0, 30.0),
        "c": (50.0, -30.0),
        "d": (-10.0, -50.0),
        "e": (-50.0, 10.0),
    }
    wanted = {
        frozenset(pair)
        for pair in (("a", "b"), ("a", "c"), ("b", "c"), ("a", SHAFT), ("b", SHAFT), ("c", SHAFT), ("d", "e"))
    }
    measures = [m for m in all_distances(places) if frozenset((m.first, m.second)) in wanted]
    measures += [m for m in all_distances(places) if {m.first, m.second} in ({"d", "c"}, {"e", SHAFT})]
    with pytest.raises(EditRefused, match="boss d, e free to move, though there are enough of them: measure"):
        boss_places(measures, list(places), places)


def test_two_arrangements_that_fit_are_told() -> None:
    # c hangs on a and the shaft only: it may lie on either side of the line between them.
    places = {"a": (0.0, 50.0), "b": (40.0, -10.0), "c": (-30.0, -20.0)}
    measures = [m for m in all_distances(places) if {m.first, m.second} != {"b", "c"}]
    found = boss_places(measures, ["a", "b", "c"])
    assert found.residual_mm < 1e-6
    assert "another arrangement fits as well: measure b to c to settle it" in found.words or near(
        found, places, 1e-6
    )


@settings(max_examples=10)
@given(st.integers(0, 10_000), st.integers(3, 5))
def test_noise_moves_places_no_more_than_it_is(seed: int, count: int) -> None:
    rng = np.random.default_rng(seed)
    angles = 2 * math.pi * (np.arange(count) + rng.uniform(-0.25, 0.25, count)) / count
    angles -= angles[0]
    radii = rng.uniform(35, 70, count)
    names = [f"b{k}" for k in range(count)]
    places = {
        n: (float(r * math.sin(a)), float(r * math.cos(a)))
        for n, a, r in zip(names, angles, radii, strict=True)
    }
    measures = [
        BossMeasure(m.first, m.second, m.distance_mm + float(rng.uniform(-0.1, 0.1)))
        for m in all_distances(places)
    ]
    found = boss_places(measures, names)
    assert found.residual_mm < 0.2
    assert near(found, places, 0.8)
    assert found.places["b0"][0] == pytest.approx(0.0, abs=1e-9)
    exact = boss_places(all_distances(places), names)
    assert near(exact, places, 1e-5)
