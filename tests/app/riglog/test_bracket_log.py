from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from app.riglog.bracket_log import read_bracket_log
from app.riglog.log_error import LogError
from app.riglog.predicted import PredictedBand, held_against, in_degrees, predicted_band
from solver.results import CasingAnswer
from tests.app.example_results import example_results
from tests.app.riglog.invented import BracketModel, bracket_log_text
from tests.app.riglog.logs import bracket_log, channels

MODEL = BracketModel()


def test_stated_errors_hold_over_seeds() -> None:
    """Stiffness and dead band lie within two standard errors about as often as they should."""
    off = []
    for seed in range(24):
        found = read_bracket_log(bracket_log(seed))
        off.append(
            (
                (found.stiffness - MODEL.nm_per_mm) / found.stiffness_error,
                ((found.dead_band or 0.0) - MODEL.dead_band_mm) / found.dead_band_error,
            )
        )
        assert found.stiffness == pytest.approx(MODEL.nm_per_mm, rel=0.02)
        assert found.dead_band == pytest.approx(MODEL.dead_band_mm, abs=0.0015)
        assert found.middle == pytest.approx(MODEL.offset_mm, abs=0.0005)
        assert found.crossing_nm == pytest.approx(MODEL.slip_nm + MODEL.over_nm / 2.0, abs=0.5)
        assert found.scatter == pytest.approx(MODEL.noise_mm, rel=0.15)
        assert found.banded
    within = np.mean(np.abs(np.array(off)) < 2.0, axis=0)
    assert (within > 0.75).all()
    assert (np.abs(np.array(off)) < 4.5).all()
    assert np.abs(np.mean(off, axis=0)).max() < 1.0  # no lean to one side


def test_one_line_through_all_points_would_be_softer() -> None:
    log = bracket_log(0)
    slope = np.polyfit(log.of["couple"], log.of["gauge"], 1)[0]
    assert 1.0 / slope < 0.9 * MODEL.nm_per_mm
    assert read_bracket_log(log).stiffness > 0.97 * MODEL.nm_per_mm


def test_without_a_dead_band_none_is_told() -> None:
    model = replace(MODEL, dead_band_mm=0.0)
    wrongly = 0
    for seed in range(10):
        found = read_bracket_log(channels(bracket_log_text(model, seed)))
        assert found.stiffness == pytest.approx(model.nm_per_mm, rel=0.02)
        wrongly += found.banded
    assert wrongly == 0
    assert "No dead band is told from none" in found.sentences[0]


def test_outliers_hardly_count() -> None:
    log = bracket_log(2)
    knocked = dict(log.of)
    knocked["gauge"] = knocked["gauge"].copy()
    knocked["gauge"][::40] += 0.5
    found = read_bracket_log(replace(log, of=knocked))
    assert found.stiffness == pytest.approx(MODEL.nm_per_mm, rel=0.03)
    assert found.dead_band == pytest.approx(MODEL.dead_band_mm, abs=0.003)


def test_one_way_only_gives_stiffness_and_no_dead_band() -> None:
    log = bracket_log(1)
    one_way = dict(log.of)
    pushed = np.abs(log.of["couple"] - MODEL.offset_nm)
    one_way["couple"] = pushed
    one_way["gauge"] = pushed / MODEL.nm_per_mm + np.random.default_rng(5).normal(0, 0.001, len(log))
    found = read_bracket_log(replace(log, of=one_way))
    assert found.dead_band is None
    assert found.stiffness == pytest.approx(MODEL.nm_per_mm, rel=0.02)
    assert "one way only" in found.sentences[0]


@pytest.mark.parametrize("still", [0.0, 0.0015])
def test_a_log_without_movement_cannot_give_stiffness(still: float) -> None:
    log = bracket_log(1)
    quiet = {**log.of, "gauge": np.random.default_rng(1).normal(0.1, still, len(log))}
    with pytest.raises(LogError, match="a log without movement cannot give a stiffness"):
        read_bracket_log(replace(log, of=quiet))


def test_a_log_without_load_or_with_the_sign_turned_is_told() -> None:
    log = bracket_log(1)
    idle = {**log.of, "couple": np.random.default_rng(1).normal(0.1, 0.05, len(log))}
    with pytest.raises(LogError, match="without load"):
        read_bracket_log(replace(log, of=idle))
    turned = channels(bracket_log_text(), {}, {"gauge": "-"})
    with pytest.raises(LogError, match="--signs gauge=-"):
        read_bracket_log(turned)
    with pytest.raises(LogError, match="neither gauge nor angle"):
        read_bracket_log(channels("t [s],couple [N.m]\n0,1\n1,2\n"))


def test_movement_that_does_not_follow_the_couple_gives_no_stiffness() -> None:
    log = bracket_log(1)
    drifting = {**log.of, "gauge": np.linspace(0.0, 1.0, len(log)) ** 2}
    with pytest.raises(LogError, match=r"does not follow|--signs"):
        read_bracket_log(replace(log, of=drifting))


SOFT: set[str] = set()
STIFF = {"bearing 1", "bearing 2"}


def answer(taken: str, high: set[str], nm_per_deg: float, held: bool = True) -> CasingAnswer:
    motions = np.zeros((6, 6))
    motions[5, 5] = math.radians(1.0) / nm_per_deg / 1000.0
    return CasingAnswer(taken, frozenset(high), motions, (True,) * 5 + (held,), np.zeros(3))  # type: ignore[arg-type]


def test_the_foretold_is_a_band_from_stuck_and_stiff_to_slipped_and_soft_with_the_lash() -> None:
    answers = (
        answer("stuck", SOFT, 5000), answer("stuck", STIFF, 8000),
        answer("all slipped", SOFT, 3000), answer("all slipped", STIFF, 4000),
    )  # fmt: skip
    results = replace(example_results(), casing_answers=answers)
    assert results.casing is not None
    band = predicted_band(results)
    assert band.stiff_nm_per_deg == pytest.approx(8000 * 1.02)
    assert band.soft_nm_per_deg == pytest.approx(3000 * 0.98)
    least, most = band.turn_deg(np.array([-30.0, 30.0]))
    assert least.tolist() == pytest.approx([-30 / 8160, 30 / 8160])
    assert most[1] == pytest.approx(30 / 2940 + results.casing.lash_deg / 2)
    assert most[0] == -most[1]


def test_a_mechanism_has_no_soft_edge_and_the_unsolved_no_band() -> None:
    answers = (answer("stuck", SOFT, 5000), answer("all slipped", SOFT, 1, held=False))
    band = predicted_band(replace(example_results(), casing_answers=answers))
    assert band.soft_nm_per_deg is None
    assert band.turn_deg(np.array([30.0]))[1][0] == math.inf
    with pytest.raises(LogError, match="not solved"):
        predicted_band(replace(example_results(), casing_answers=()))


@pytest.mark.parametrize(
    ("band", "words"),
    [
        (PredictedBand(7000, 4000, 1.0), ("within the 4000 to 7000", "is within the lash")),
        (PredictedBand(4000, 3000, 1.0), ("stiffer than", "within")),
        (PredictedBand(9000, 7000, 0.001), ("softer than", "more than the lash")),
        (PredictedBand(9000, None, math.inf), ("within the 0 to 9000", "lash of slipped bolts, without end")),
    ],
)
def test_the_log_held_against_the_band(band: PredictedBand, words: tuple[str, str]) -> None:
    found = held_against(read_bracket_log(bracket_log(3)), band, MODEL.gauge_arm_mm)
    assert found.nm_per_deg == pytest.approx(MODEL.nm_per_deg, rel=0.02)
    for sentence, word in zip(found.sentences, words, strict=True):
        assert word in sentence


def test_a_gauge_needs_its_arm_for_degrees() -> None:
    with pytest.raises(LogError, match="--gauge-arm"):
        in_degrees(read_bracket_log(bracket_log(3)), None)
