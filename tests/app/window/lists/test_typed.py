"""What is typed into fields, in several units, and what is refused with which sentence."""

from __future__ import annotations

import pytest

from app.editing.refused import EditRefused
from app.window.lists.field import Field, Kind
from app.window.lists.typed import in_words, shown, typed
from geometry.bar_section import Angle, Channel, FlatBar, RoundBar
from geometry.bracket import Bracket
from geometry.fixing import RectangularTube, RoundTube, Spacer, Washer

BRACKET = Bracket()


def _field(kind: Kind = "quantity", unit: str = "", value: object = 1.0, **given: object) -> Field:
    return Field((("x",),), "thing", value, kind, unit, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "unit", "text", "wanted"),
    [
        ("quantity", "mm", "5/16 in", 7.9375),
        ("quantity", "mm", "6,5", 6.5),
        ("quantity", "mm", "42+3", 45.0),
        ("quantity", "N.m", "20 lbf.ft", 27.1164),
        ("number", "", "0,15", 0.15),
        ("number", "", "1.5e-1", 0.15),
        ("share", "", "25", 0.25),
        ("share", "", "25 %", 0.25),
        ("share", "", "0.5 %", 0.005),
    ],
)
def test_numbers_are_read_in_any_unit(kind: Kind, unit: str, text: str, wanted: float) -> None:
    assert typed(_field(kind, unit), text, BRACKET) == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize(
    "text", ["8 to 25 kN/mm", "8000-25000", "8000 N/mm to 25 kN/mm", "8000 \u2026 25000"]
)
def test_ranges_are_read_however_their_ends_are_parted(text: str) -> None:
    assert typed(_field("range", "N/mm"), text, BRACKET) == pytest.approx((8000.0, 25000.0))


def test_one_figure_is_both_ends_of_a_range() -> None:
    assert typed(_field("range", "N/mm"), "5 kN/mm", BRACKET) == (5000.0, 5000.0)


@pytest.mark.parametrize(
    ("kind", "unit", "text", "sentence"),
    [
        ("quantity", "N.m", "38 kg", "torque is wanted"),
        ("quantity", "mm", "1,500", "two ways"),
        ("quantity", "mm", "", "cannot be empty: type 42 mm"),
        ("range", "N/mm", "9 to 3", "lower figure first"),
        ("range", "N/mm", "1 to 2 to 3", "more than two ends"),
        ("number", "", "0.15 mm", "without a unit"),
        ("number", "", "10 N", "type it without a unit"),
        ("number", "", '5"', "type it without a unit"),
        ("share", "", "0.25", "25 % or 0.25 %"),
        ("size", "", "M9", "did you mean M8 or M10?"),
        ("grade", "", "8.9", "did you mean"),
        ("material", "", "S276", "did you mean"),
        ("washer", "", "24 x 8", "three sizes"),
        ("section", "", "38", "no section of a bar"),
        ("section", "", "channel 30 x 60", "no section of a bar"),
    ],
)
def test_what_cannot_be_read_is_told_with_the_next_step(
    kind: Kind, unit: str, text: str, sentence: str
) -> None:
    with pytest.raises(EditRefused, match=r"thing.*") as told:
        typed(_field(kind, unit), text, BRACKET)
    assert sentence in str(told.value)
    assert "\n" not in str(told.value)


def test_names_of_the_tables_are_read_as_the_trade_writes_them() -> None:
    assert typed(_field("size"), "m 8 x 1", BRACKET) == "M8x1"
    assert typed(_field("grade"), "SAE grade 5", BRACKET) == "grade 5"
    assert typed(_field("material"), "s275", BRACKET) == "S275"


def test_a_choice_is_found_by_its_beginning() -> None:
    field = _field("choice", choices=("nothing", "bearings", "donor mount"))
    assert typed(field, "bear", BRACKET) == "bearings"
    with pytest.raises(EditRefused, match="none of nothing, bearings, donor mount"):
        typed(field, "glue", BRACKET)


def test_parts_are_read_as_they_are_shown() -> None:
    for kind, part in (
        ("washer", Washer(outer_mm=24, inner_mm=8.4, thickness_mm=2)),
        ("spacer", Spacer(outer_mm=20, inner_mm=9, length_mm=12)),
        ("section", RoundTube(outer_mm=38.1, wall_mm=2.5)),
        ("section", RectangularTube(width_mm=40, height_mm=40, wall_mm=3)),
        ("section", RoundBar(outer_mm=25)),
        ("section", FlatBar(width_mm=40, height_mm=10)),
        ("section", Angle(width_mm=50, height_mm=40, wall_mm=5)),
        ("section", Channel(width_mm=30, height_mm=60, wall_mm=3)),
    ):
        assert typed(_field(kind, "mm", part), in_words(part, kind), BRACKET) == part  # type: ignore[arg-type]


def test_an_inch_reader_types_bare_inches_and_reads_fractions() -> None:
    field = _field("quantity", "mm", 41.275)
    assert shown(field, inch=True) == "1 5/8 in"
    assert typed(field, "1 5/8", BRACKET, inch=True) == pytest.approx(41.275)
    assert shown(_field("quantity", "N.m", 38.0), inch=True) == "28.03 lbf.ft"
    assert shown(_field("range", "N/mm", (8000.0, 25000.0)), inch=True) == "45680 to 142800 lbf/in"


def test_nothing_and_several_values_are_told_in_words() -> None:
    assert shown(_field(value=None, blank=True)) == "____"
    assert shown(_field(value=None, instead="none")) == "none"
    assert shown(_field(varies=True)) == "various"
    assert typed(_field(value=None, instead="none"), "none", BRACKET) is None


@pytest.mark.parametrize("inch", [False, True])
@pytest.mark.parametrize(
    ("kind", "value"),
    [
        ("place", (0.0, -120.0, -480.0)),
        ("places", ((0.0, 0.0, 410.0), (0.0, 0.0, -190.0))),
        ("washer", Washer(outer_mm=24, inner_mm=8.4, thickness_mm=2)),
        ("spacer", Spacer(outer_mm=20, inner_mm=9, length_mm=12)),
        ("section", RectangularTube(width_mm=40, height_mm=40, wall_mm=3)),
        ("range", (8000.0, 25000.0)),
    ],
)
def test_what_is_shown_is_read_as_it_was_meant(kind: Kind, value: object, inch: bool) -> None:
    """Whoever changes one figure of several leaves the others as they stand: in the unit that is shown."""
    field = _field(kind, "N/mm" if kind == "range" else "mm", value)
    again = typed(field, shown(field, inch=inch), BRACKET, inch=inch)
    assert _figures(again) == pytest.approx(_figures(value), rel=2e-3, abs=0.06)


def test_several_sizes_have_their_unit_once() -> None:
    """A cell of the list has room for little."""
    field = _field("section", "mm", RectangularTube(width_mm=38.1, height_mm=25.4, wall_mm=3.175))
    assert shown(field, inch=True) == "1 1/2 x 1 x 1/8 in"
    again = typed(field, "1 1/2 x 1 x 1/8", BRACKET, inch=True)
    assert _figures(again) == pytest.approx(_figures(field.value))


def _figures(value: object) -> list[float]:
    if isinstance(value, float | int):
        return [float(value)]
    parts = value if isinstance(value, tuple) else value.model_dump(exclude={"kind", "material"}).values()  # type: ignore[attr-defined]
    return [figure for part in parts for figure in _figures(part)]
