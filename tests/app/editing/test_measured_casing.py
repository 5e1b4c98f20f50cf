"""A casing from measures: bosses where they were found, what was there kept, nonsense refused by name."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.editing.measured_casing import MeasuredBody, with_measured_casing
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from tests.brackets import one_piece

BODY = MeasuredBody(
    thread="M10",
    face_diameter_mm=24.0,
    depth_mm=None,
    width_mm=120.0,
    height_mm=100.0,
    length_mm=130.0,
    mass_kg=5.2,
)
PLACES = {"A": (0.0, 52.0), "B": (50.0, -30.0), "C": (-50.0, -30.0)}


def test_a_new_casing_has_its_block_round_the_bosses_and_its_mass_in_the_middle() -> None:
    casing = with_measured_casing(Bracket(), PLACES, BODY).casing
    assert casing is not None
    assert {boss.name: boss.at_mm for boss in casing.bosses} == {n: (*at, 0.0) for n, at in PLACES.items()}
    middle = (52.0 - 60.0) / 3.0
    assert casing.envelope.low_mm == pytest.approx((-60.0, middle - 50.0, -130.0), abs=0.051)
    assert casing.envelope.high_mm == pytest.approx((60.0, middle + 50.0, 0.0), abs=0.051)
    assert casing.mass_centre_mm == pytest.approx((0.0, middle, -65.0), abs=0.051)
    assert casing.envelope.low_mm[1] == -52.7  # no offsets to the thousandth from a rule
    assert {boss.depth_mm for boss in casing.bosses} == {None}


def test_station_clocking_and_a_boss_that_was_there_are_kept() -> None:
    before = one_piece()
    assert before.casing is not None
    turned = before.but(casing=before.casing.but(station_mm=7.0, clocking_deg=15.0))
    assert turned.casing is not None
    boss = turned.casing.bosses[0]
    casing = with_measured_casing(turned, {boss.name: (1.0, 2.0)}, BODY).casing
    assert casing is not None
    assert (casing.station_mm, casing.clocking_deg) == (7.0, 15.0)
    assert casing.bosses[0] == boss.but(
        at_mm=(1.0, 2.0, boss.at_mm[2]), thread="M10", depth_mm=None, face_diameter_mm=24.0
    )


def test_a_block_of_the_same_size_keeps_its_place_and_its_mass_centre() -> None:
    before = one_piece()
    assert before.casing is not None
    low, high = before.casing.envelope.low_mm, before.casing.envelope.high_mm
    width, height, length = (h - w for w, h in zip(low, high, strict=True))
    same = replace(BODY, width_mm=width, height_mm=height, length_mm=length)
    casing = with_measured_casing(before, PLACES, same).casing
    assert casing is not None
    assert (casing.envelope, casing.mass_centre_mm) == (before.casing.envelope, before.casing.mass_centre_mm)
    longer = with_measured_casing(before, PLACES, replace(same, length_mm=length + 5.0)).casing
    assert longer is not None
    assert longer.mass_centre_mm[2] == pytest.approx(-(length + 5.0) / 2.0)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (replace(BODY, mass_kg=-1.0), "mass kg"),
        (replace(BODY, face_diameter_mm=0.0), "face diameter mm"),
    ],
)
def test_nonsense_is_refused_by_name(body: MeasuredBody, words: str) -> None:
    with pytest.raises(EditRefused, match=words):
        with_measured_casing(Bracket(), PLACES, body)
