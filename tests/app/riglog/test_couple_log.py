from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize

from app.riglog.couple_log import read_couple
from app.riglog.couple_words import couple_sentences
from app.riglog.log_error import LogError
from app.riglog.measured import measured_sentence, with_measured_couple
from app.riglog.reading import Floats
from app.riglog.straight import robust_fit
from geometry.bracket import Bracket
from geometry.loads import LoadCell, TorqueMeters
from tests.app.riglog.invented import CoupleModel, couple_log_text
from tests.app.riglog.logs import channels, couple_log

MODEL = CoupleModel()


@pytest.mark.parametrize("seed", range(8))
def test_what_the_model_was_made_from_is_found_again(seed: int) -> None:
    found = read_couple(couple_log(seed))
    # noise over the root of the quiet rows is 0.01; four times that, and the median of five adds no offset
    assert found.zero.offsets["output"] == pytest.approx(MODEL.offset_output_nm, abs=0.04)
    assert found.zero.offsets["input"] == pytest.approx(MODEL.offset_input_nm, abs=0.04)
    assert found.zero.offsets["force"] == pytest.approx(MODEL.offset_force_n, abs=0.2)
    assert found.cycles == 8
    # a maximum of noisy readings lies above the true peak, by three deviations of the median of five
    assert MODEL.peak_nm - 0.05 < found.highest.couple_nm < MODEL.peak_nm + 0.3
    assert found.agreement is not None
    assert found.agreement.slope == pytest.approx(1.0, abs=0.005)
    assert abs(found.agreement.mean_nm) < 0.05
    assert found.inertia is not None
    assert found.inertia.kg_m2 == pytest.approx(MODEL.inertia_kg_m2, rel=0.05)
    assert abs(found.inertia.kg_m2 - MODEL.inertia_kg_m2) < 4.0 * found.inertia.error_kg_m2
    assert 0.8 < found.slow.mean() < 0.98
    assert couple_sentences(found) == ()


def test_fast_rows_are_shown_apart_and_do_not_make_the_peak_of_the_meters() -> None:
    # inertia against the swing: a model whose rotor adds to the couple in fast rows
    model = replace(MODEL, inertia_kg_m2=-0.6)
    found = read_couple(channels(couple_log_text(model), {"arm_mm": "250"}))
    assert found.fast_peak_nm is not None
    assert found.fast_peak_nm > 40.0
    # slow rows are those that inertia adds up to 2 % to
    assert found.highest.couple_nm < 1.02 * MODEL.peak_nm + 0.4
    assert any("Fast rows reach" in sentence for sentence in couple_sentences(found))


def test_wrong_arm_and_wrong_sign_are_named() -> None:
    arm = read_couple(channels(couple_log_text(), {"arm_mm": "230"}))
    assert "an arm of 250 mm would make them agree" in couple_sentences(arm)[0]
    sign = read_couple(channels(couple_log_text(), {"arm_mm": "250"}, {"force": "-"}))
    assert "--signs force=-" in couple_sentences(sign)[0]


def test_torque_meters_alone_without_an_angle_say_so() -> None:
    lines = [",".join(line.split(",")[:3]) for line in couple_log_text().splitlines()]
    found = read_couple(channels("\n".join(lines)))
    assert not found.fast_known
    assert found.cell_nm is None
    assert any("cannot be told apart" in sentence for sentence in couple_sentences(found))
    assert isinstance(with_measured_couple(Bracket(), found).loads.couple, TorqueMeters)


def test_a_spike_is_no_peak() -> None:
    log = couple_log(0)
    spiked = dict(log.of)
    spiked["output"] = spiked["output"].copy()
    spiked["output"][500:502] = 400.0
    assert read_couple(replace(log, of=spiked)).highest.couple_nm < MODEL.peak_nm + 0.4


def test_zeros_given_are_taken_and_without_rest_they_are_asked_for() -> None:
    given = read_couple(couple_log(0), {"output": 0.4, "input": -0.1, "force": 3.0})
    assert given.zero.offsets == {"output": 0.4, "input": -0.1, "force": 3.0}
    lines = couple_log_text().splitlines()
    moving = read_couple(channels("\n".join([lines[0], *lines[400:1800]]), {"arm_mm": "250"}))
    assert moving.zero.offsets["output"] == 0.0
    assert any("neither begins nor ends at rest" in sentence for sentence in couple_sentences(moving))


def test_the_peak_becomes_the_couple_with_its_source() -> None:
    found = read_couple(couple_log(3))
    before = Bracket(note="A bracket.")
    after = with_measured_couple(before, found)
    couple = after.loads.couple
    assert isinstance(couple, LoadCell if found.highest is found.cell_peak else TorqueMeters)
    assert couple.value_nm == pytest.approx(found.highest.couple_nm, abs=0.01)
    assert after.loads.couple_factor == 1.5
    assert after.note == f"A bracket. Couple read from rig.csv, line {found.highest.line}."
    assert with_measured_couple(after, found).note == after.note
    assert "from blank" in measured_sentence(before, after)


@pytest.mark.parametrize("seed", range(4))
def test_load_cell_alone_counts_every_row(seed: int) -> None:
    lines = couple_log_text(seed=seed).splitlines()
    cell = "\n".join(",".join(np.array(line.split(","))[[0, 3]]) for line in lines)
    found = read_couple(channels(cell, {"arm_mm": "250"}))
    assert found.source == "load cell"
    assert found.slow.all()
    assert found.peak.couple_nm == pytest.approx(MODEL.peak_nm, abs=0.3)
    assert isinstance(with_measured_couple(Bracket(), found).loads.couple, LoadCell)


def test_no_couple_and_too_few_rows() -> None:
    with pytest.raises(LogError, match="no couple in the log"):
        read_couple(channels("t [s],angle [deg]\n0,1\n1,2\n"))
    with pytest.raises(LogError, match="2 rows; 50 are needed"):
        read_couple(channels("t [s],couple [N.m]\n0,1\n1,2\n"))


def test_a_long_fit_is_the_fit_of_all_its_rows() -> None:
    chance = np.random.default_rng(5)
    x = chance.normal(0.0, 10.0, 150_000)
    y = 1.02 * x + 0.3 + chance.standard_t(3, len(x))
    design = np.column_stack([x, np.ones(len(x))])
    found, covariance, _ = robust_fit(design, y)

    def loss(parameters: Floats) -> float:
        off = np.abs(y - design @ parameters)
        bound = 1.345 * 1.4826 * float(np.median(np.abs(y - design @ found)))
        return float(np.sum(np.where(off <= bound, off**2 / 2.0, bound * (off - bound / 2.0))))

    best = minimize(loss, found + 0.01, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-7}).x
    assert np.all(np.abs(found - best) < 0.02 * np.sqrt(np.diag(covariance)))
