from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from app.riglog.couple_log import read_couple
from app.riglog.reading import table_of
from app.riglog.troubles import channel_troubles, table_troubles
from tests.app.riglog.invented import CoupleModel, couple_log_text
from tests.app.riglog.logs import bracket_log, channels, couple_log


def codes(text: str, columns: dict[str, str] | None = None) -> dict[str, str]:
    log = channels(text, {"arm_mm": "250"} | (columns or {}))
    return {t.code: t.sentence for t in (*table_troubles(log.table), *channel_troubles(log))}


@pytest.mark.parametrize("seed", range(4))
def test_sound_logs_have_none(seed: int) -> None:
    for log in (couple_log(seed), bracket_log(seed)):
        assert (*table_troubles(log.table), *channel_troubles(log)) == ()


def test_swapped_channels() -> None:
    found = codes(couple_log_text(), {"output": "input torque [N.m]", "input": "output torque [N.m]"})
    assert "look swapped" in found["swapped"]
    assert "'input torque [N.m]'" in found["swapped"]


def test_clipped_sensor() -> None:
    log = couple_log(1)
    clipped = {**log.of, "output": np.clip(log.of["output"], -25.0, 25.0)}
    found = channel_troubles(replace(log, of=clipped))
    assert [trouble.code for trouble in found] == ["clipped"]
    assert "stands at exactly 25" in found[0].sentence
    assert found[0].serious


def test_time_that_goes_back_and_gaps_in_it() -> None:
    lines = couple_log_text().splitlines()
    back = codes("\n".join([*lines[:600], *lines[300:]]))
    assert "Time does not increase in 1 places, first in line 601" in back["time"]
    gap = codes("\n".join([*lines[:600], *lines[700:]]))
    assert "gap" in gap
    assert "after line 600" in gap["gap"]


def test_a_clock_too_coarse_is_told_and_spread() -> None:
    model = CoupleModel(rate_hz=400.0)
    text = couple_log_text(model)
    assert set(codes(text)) == {"coarse time"}
    found = read_couple(channels(text, {"arm_mm": "250"}))
    assert found.inertia is not None
    assert found.inertia.kg_m2 == pytest.approx(model.inertia_kg_m2, rel=0.1)
    standing = codes("time [s],couple [N.m]\n" + "".join(f"1.0,{k}\n" for k in range(30)))
    assert "Time does not increase" in standing["time"]


def test_text_missing_constant_and_one_column() -> None:
    lines = couple_log_text().splitlines()
    lines[50] = lines[50].replace(lines[50].split(",")[1], "overload")
    lines[60] = lines[60].replace(lines[60].split(",")[2], "")
    found = codes("\n".join(lines))
    assert "line 51, output torque [N.m]: 'overload'" in found["text"]
    assert "1 reading is missing, first in line 61" in found["missing"]
    assert "never changes" in codes(couple_log_text(CoupleModel(input_share=0, noise_nm=0)))["constant"]
    (one,) = table_troubles(table_of(b"couple\n1\n2\n3\n"))
    assert one.code == "one column"
    assert one.serious


def test_a_unit_that_the_column_itself_contradicts_is_told() -> None:
    """A couple of 31 N.m read as lbf.ft would be 42; one in lbf.ft read as N.m too small, which is worse."""
    log = couple_log(1)
    columns = log.columns.of | {"output": log.columns.of["output"].model_copy(update={"unit": "lbf.ft"})}
    other = replace(log, columns=log.columns.model_copy(update={"of": columns}))
    (found,) = channel_troubles(other)
    assert found.code == "unit"
    assert "'output torque [N.m]' names N.m itself and is read as lbf.ft" in found.sentence
    assert not found.serious
