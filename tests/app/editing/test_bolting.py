"""Holes bolted at once, and where casing and dash bar lie on the sheet."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from app.editing import openings as edit
from app.editing.names import in_the_habit
from app.editing.refused import EditRefused
from app.editing.sheet_places import casing_centre
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from geometry.fixing import AtBoss, AtDashBar, RoundTube
from geometry.placing import place_bolts
from tests.app.editing.plates import MAIN
from tests.brackets import one_piece
from tests.geometry.example_bracket import example_bracket

SAMPLES = sorted((Path(__file__).parents[3] / "sample_brackets").glob("*.bracket.json"))


def sample(path: Path) -> Bracket:
    bracket = read_bracket(path).bracket
    assert bracket is not None
    return bracket


def bare() -> Bracket:
    """Return the example without the bolt and the hole at boss b."""
    return edit.remove_opening(example_bracket(), MAIN, "right")


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name.split(".")[0])
def test_every_bolted_boss_lies_where_its_hole_is(path: Path) -> None:
    bracket = sample(path)
    looked_at = 0
    for place in place_bolts(bracket):
        if place.partner == "boss":
            there = {b.name: b for b in edit.bosses_on_sheet(bracket, place.plate)}[place.partner_name]
            assert there.at_mm == pytest.approx(place.flat_mm, abs=0.02)
            assert there.off_mm == pytest.approx(place.gap_mm, abs=1e-6)
            assert there.bolted
            looked_at += 1
        elif place.partner == "dash bar":
            strip = edit.bar_on_sheet(bracket, place.plate)
            assert strip is not None
            assert strip.off_mm == pytest.approx(place.gap_mm, abs=1e-6)
            (ux, uy) = np.subtract(strip.middle[1], strip.middle[0])
            away = [np.subtract(place.flat_mm, line[0]) for line in strip.lines]
            sides = [ux * y - uy * x for x, y in away]
            assert sides[0] * sides[1] < 0, "the hole lies between the two lines"
    assert looked_at


def test_a_boss_off_the_plate_is_shown_but_not_on_another_panel() -> None:
    bracket = one_piece(folded=True)
    assert bracket.casing is not None
    far = bracket.casing.bosses[0].but(name="far", at_mm=(200, 0, 0))
    high = bracket.casing.bosses[0].but(name="high", at_mm=(0, 110, 0))
    aside = bracket.casing.bosses[0].but(name="aside", direction=(1, 0, 0))
    casing = bracket.casing.but(bosses=(*bracket.casing.bosses, far, high, aside))
    found = {b.name: b for b in edit.bosses_on_sheet(bracket.but(casing=casing), "plate")}
    assert set(found) == {"1", "2", "3", "far"}
    assert found["far"].at_mm == (200, 0)
    assert not found["far"].bolted


def test_a_plate_whose_shape_cannot_be_made_still_shows_the_bosses() -> None:
    bracket = example_bracket()
    plate = bracket.plate(MAIN)
    crossed = plate.but(outline=(plate.outline[0], plate.outline[2], plate.outline[1], plate.outline[3]))
    found = edit.bosses_on_sheet(bracket.with_plate(crossed), MAIN)
    assert [b.at_mm for b in found] == [(-40, 0), (40, 0)]
    assert casing_centre(crossed) == (0, 0)


def test_a_hole_at_a_boss_is_bolted_at_once() -> None:
    made = edit.add_bolted_hole(bare(), MAIN, (40, 0), "b")
    hole, bolt = made.plate(MAIN).openings[-1], made.bolts[-1]
    assert (hole.name, hole.diameter_mm) == ("b", 9)  # type: ignore[union-attr]
    assert (bolt.name, bolt.size, bolt.grade, bolt.tightening_nm) == ("5", "M8", None, None)
    assert bolt.joins == AtBoss(boss="b")
    assert {f.code for f in findings_of(made)} == {"blank-grade", "blank-preload"}


def test_a_hole_to_the_bar_carries_on_the_plates_own_names() -> None:
    made = edit.add_hole_to_bar(example_bracket(), MAIN, (0, 110), "M10")
    assert made.plate(MAIN).openings[-1].name == "bar 1"
    assert made.plate(MAIN).openings[-1].diameter_mm == 11  # type: ignore[union-attr]
    assert (made.bolts[-1].name, made.bolts[-1].joins) == ("5", AtDashBar())
    again = edit.add_hole_to_bar(made, MAIN, (20, 110), "m 8")
    assert (again.plate(MAIN).openings[-1].name, again.bolts[-1].size) == ("bar 2", "M8")
    marlpit = next(path for path in SAMPLES if "marlpit_one_piece" in path.name)
    more = edit.add_hole_to_bar(sample(marlpit), "plate", (0, 112), "M8")
    assert (more.plate("plate").openings[-1].name, more.bolts[-1].name) == ("foot 5", "8")


@pytest.mark.parametrize(
    ("names", "following"),
    [((), "1"), (("1", "2"), "3"), (("bolt 3", "bolt 4"), "bolt 5"), (("M8",), "1"), (("A7", "2"), "3")],
)
def test_bolts_are_named_in_the_files_own_habit(names: tuple[str, ...], following: str) -> None:
    assert in_the_habit(names, "") == following


def test_a_name_counted_on_never_grows_too_long() -> None:
    longest = "b" * 79 + "9"
    assert len(in_the_habit([longest], "")) <= 80
    bracket = example_bracket()
    crowded = bracket.but(bolts=tuple(b.but(name=longest) for b in bracket.bolts[:1]))
    made = edit.add_hole_to_bar(crowded, MAIN, (0, 110), "M8")
    assert made.bolts[-1].name != longest


def test_what_cannot_be_bolted_is_refused() -> None:
    start = bare()
    casing = start.casing
    assert casing is not None
    odd = start.but(casing=casing.but(bosses=(casing.bosses[1].but(thread="M9"),)))
    for refused, words in (
        (lambda: edit.add_bolted_hole(start, MAIN, (0, 0), "a"), "boss a takes bolt 1 already"),
        (lambda: edit.add_bolted_hole(start, MAIN, (0, 0), "z"), "no boss 'z'; it has: a, b"),
        (lambda: edit.add_bolted_hole(odd, MAIN, (0, 0), "b"), "no hole can be chosen for boss b"),
        (lambda: edit.add_bolted_hole(start.but(casing=None), MAIN, (0, 0), "b"), "add the casing first"),
        (lambda: edit.add_hole_to_bar(start.but(dash_bar=None), MAIN, (0, 0), "M8"), "add it first"),
        (lambda: edit.add_hole_to_bar(start, MAIN, (0, 0), "M80"), "no hole can be chosen for the bolt"),
    ):
        with pytest.raises(EditRefused, match=words):
            refused()


def test_no_strip_without_a_bar_and_none_flat_on_a_round_one() -> None:
    bracket = example_bracket()
    assert bracket.dash_bar is not None
    assert edit.bar_on_sheet(bracket.but(dash_bar=None), MAIN) is None
    tube = bracket.dash_bar.but(section=RoundTube(outer_mm=50, wall_mm=3))
    strip = edit.bar_on_sheet(bracket.but(dash_bar=tube), MAIN)
    assert strip is not None
    assert not strip.flat
    assert [line[0][1] for line in strip.lines] == pytest.approx([135, 85])
    across = bracket.dash_bar.but(from_mm=(0, 110, 31), to_mm=(0, 110, 600))
    assert edit.bar_on_sheet(bracket.but(dash_bar=across), MAIN) is None
