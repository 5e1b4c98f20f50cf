"""Starting points: stock shapes that fit, the empty sheet, an example casing that says that it is one."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely.geometry import Point

from app.editing.blank_sheet import blank_bracket
from app.editing.other_hand import for_other_hand
from app.editing.refused import EditRefused
from app.editing.stock_shapes import StockShape, example_casing, stock_shapes
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from geometry.fixing import RoundTube
from geometry.flat_pattern import flat_pattern
from geometry.placing import place_bolts
from solver.analyse import analyse

MARLPIT = read_bracket(Path(__file__).parents[3] / "sample_brackets/marlpit_one_piece.bracket.json").bracket
assert MARLPIT is not None
BARE = MARLPIT.but(plates=(), bolts=())
SHAPES = {shape.name: shape for shape in stock_shapes()}
every_shape = pytest.mark.parametrize("shape", stock_shapes(), ids=lambda shape: shape.name)
BLANKS_OF_THE_SHAPE = {"blank-grade"}
BLANKS_OF_THE_EXAMPLE = {"boss-depth-blank"}
"""How deep its threads go, an example casing does not say."""


def codes(bracket: Bracket, *severities: str) -> set[str]:
    return {f.code for f in findings_of(bracket) if not severities or f.severity in severities}


def moved_bar(v_mm: float, w_mm: float) -> Bracket:
    bar = BARE.dash_bar
    assert bar is not None
    return BARE.but(dash_bar=bar.but(from_mm=(-620, v_mm, w_mm), to_mm=(620, v_mm, w_mm)))


def meets(bracket: Bracket) -> bool:
    """Return whether every bolt's partner stands where its hole is, faces parallel and the gap filled."""
    spacers = {b.name: b.spacer.length_mm if b.spacer else 0.0 for b in bracket.bolts}
    return all(
        p.offset_mm < 1e-6 and p.tilt_deg < 1e-4 and abs(p.gap_mm - spacers[p.bolt]) < 0.3 and not p.misses
        for p in place_bolts(bracket)
    )


@every_shape
def test_each_fits_marlpit_with_nothing_to_stop_it(shape: StockShape) -> None:
    made = shape.make(BARE)
    assert codes(made, "stop", "doubt", "rule") == BLANKS_OF_THE_SHAPE
    assert meets(made)
    assert any(bolt.joins.to == "dash bar" for bolt in made.bolts)
    assert made.but(plates=(), bolts=()) == BARE
    assert clear_of_each_other_and_of_the_shaft(made)
    assert shape.words.endswith(".")


def clear_of_each_other_and_of_the_shaft(bracket: Bracket) -> bool:
    shapes = [(p.placement.origin_mm[2], flat_pattern(p).polygon) for p in bracket.plates]
    shaft = Point(0, 0).buffer(11.0)
    apart = all(
        a[1].distance(b[1]) >= 1.0
        for k, a in enumerate(shapes)
        for b in shapes[k + 1 :]
        if abs(a[0] - b[0]) < 6
    )
    return apart and all(polygon.distance(shaft) > 0.5 for _, polygon in shapes)


@every_shape
@pytest.mark.parametrize("count", [2, 3, 4, 5, 6])
@pytest.mark.parametrize("clocking_deg", [0.0, 20.0, 90.0, 180.0])
def test_pieces_keep_clear_of_each_other_and_of_the_shaft(
    shape: StockShape, count: int, clocking_deg: float
) -> None:
    casing = example_casing(120, count, "M8").but(clocking_deg=clocking_deg, name="unit")
    bracket = moved_bar(125, 40).but(casing=casing)
    # What goes up beside the shaft needs bosses beside it; the one-piece plates fit every time.
    refusals = (EditRefused,) if "strap" in shape.name or shape.name == "angle pair" else ()
    try:
        made = shape.make(bracket)
    except refusals:
        return
    assert codes(made, "stop", "doubt") <= BLANKS_OF_THE_SHAPE | BLANKS_OF_THE_EXAMPLE
    assert clear_of_each_other_and_of_the_shaft(made)
    assert meets(made)


@every_shape
def test_each_fits_an_example_casing_on_marlpits_bar(shape: StockShape) -> None:
    made = shape.make(BARE.but(casing=example_casing()))
    assert codes(made, "stop", "doubt", "rule") == {
        *BLANKS_OF_THE_SHAPE,
        *BLANKS_OF_THE_EXAMPLE,
        "blank-casing",
    }
    assert meets(made)


@every_shape
def test_without_a_bar_it_is_sized_sensibly_and_its_far_end_bolted_to_nothing(shape: StockShape) -> None:
    made = shape.make(BARE.but(dash_bar=None))
    assert {bolt.joins.to for bolt in made.bolts} == {"boss"}
    left = codes(made, "stop", "doubt", "rule")
    assert left <= {*BLANKS_OF_THE_SHAPE, "casing-unheld", "plate-one-sided", "bolts-in-line"}
    assert all(60 < max(c.at_mm[1] for c in plate.outline) < 250 for plate in made.plates)


@every_shape
def test_it_fits_a_round_bar_and_a_clocked_casing_that_looks_away(shape: StockShape) -> None:
    assert BARE.casing is not None
    assert BARE.dash_bar is not None
    bosses = tuple(b.but(direction=(0, 0, -2)) for b in BARE.casing.bosses)
    casing = BARE.casing.but(bosses=bosses, station_mm=40, clocking_deg=8)
    bar = BARE.dash_bar.but(
        section=RoundTube(outer_mm=38, wall_mm=3), from_mm=(-620, 112, -2), to_mm=(620, 112, -2)
    )
    made = shape.make(BARE.but(casing=casing, dash_bar=bar))
    assert codes(made, "stop", "doubt", "rule") == BLANKS_OF_THE_SHAPE
    assert meets(made)
    mirrored = shape.make(for_other_hand(BARE.but(casing=casing, dash_bar=bar)))
    assert codes(mirrored, "stop", "doubt", "rule") == BLANKS_OF_THE_SHAPE


def test_a_bar_below_the_shaft_turns_the_shape_over() -> None:
    assert BARE.casing is not None
    flipped = BARE.casing.but(clocking_deg=180)
    made = SHAPES["plate with folded foot"].make(moved_bar(-110.4, 34.4).but(casing=flipped))
    assert codes(made, "stop", "doubt", "rule") == BLANKS_OF_THE_SHAPE
    assert meets(made)


def test_a_bar_behind_the_plate_gets_a_foot_turned_back() -> None:
    made = SHAPES["plate with folded foot"].make(moved_bar(110.4, -40.0))
    assert made.plates[0].folds[0].direction == "down"
    assert meets(made)
    assert codes(made, "stop", "doubt", "rule") == BLANKS_OF_THE_SHAPE


def test_bosses_at_two_heights_get_spacers() -> None:
    assert BARE.casing is not None
    low = BARE.casing.boss("left").but(at_mm=(-50, -30, -7))
    bosses = tuple(low if b.name == "left" else b for b in BARE.casing.bosses)
    made = SHAPES["flat plate"].make(BARE.but(casing=BARE.casing.but(bosses=bosses)))
    spacers = {
        b.hole: b.spacer.length_mm for b in made.bolts if b.spacer is not None and b.joins.to == "boss"
    }
    assert spacers == {"left": pytest.approx(7.0)}
    assert meets(made)


def test_a_folded_foot_is_judged_once_its_bolts_have_grades() -> None:
    made = SHAPES["plate with folded foot"].make(BARE)
    graded = made.but(bolts=tuple(bolt.but(grade="8.8") for bolt in made.bolts))
    results = analyse(graded)
    assert results.verdict in ("pass", "marginal", "fail")


def refused(shape: str, bracket: Bracket, said: str) -> None:
    with pytest.raises(EditRefused, match=said):
        SHAPES[shape].make(bracket)


def test_what_does_not_fit_is_refused_with_the_next_step() -> None:
    assert BARE.casing is not None
    assert BARE.dash_bar is not None
    refused("flat plate", blank_bracket(), "add the casing with its bosses first")
    refused("flat plate", moved_bar(110, 5), "mm within the plate: take the plate with a folded foot")
    refused("plate with folded foot", moved_bar(70, 34), "too near the bosses for a folded foot")
    refused("channel", moved_bar(70, 34), "too near the bosses for a channel")
    refused("straps side by side", moved_bar(0, 34), "only .* mm below the dash bar, too near for a strap")
    slanting = BARE.but(dash_bar=BARE.dash_bar.but(to_mm=(620, 150, 34)))
    refused("flat plate", slanting, "runs 1.8 deg out of square")
    turned = BARE.but(dash_bar=BARE.dash_bar.but(up=(0, 1, 1)))
    refused("flat plate", turned, "faces stand at a slant")
    sideways = BARE.casing.bosses[0].but(direction=(1, 0, 1))
    refused(
        "flat plate", BARE.but(casing=BARE.casing.but(bosses=(sideways,))), "boss top does not look along"
    )
    single = BARE.but(casing=BARE.casing.but(bosses=BARE.casing.bosses[:1]))
    refused("straps side by side", single, "two straps need two bosses")
    refused("angle pair", single, "not far enough apart")


def test_the_empty_sheet_invents_nothing_and_says_what_is_blank() -> None:
    blank = blank_bracket()
    assert blank == Bracket(loads=blank.loads)
    assert blank.loads.couple.words == "stated by nobody yet"
    found = codes(blank)
    assert {"no-plates", "no-casing", "blank-column", "blank-couple", "blank-wheel", "blank-rake"} <= found


def test_an_example_casing_bars_the_verdict_until_it_is_somebodys() -> None:
    casing = example_casing(110.0, 4, "M8", mass_kg=6.2)
    assert [b.at_mm[:2] for b in casing.bosses] == [(0, 55), (55, 0), (0, -55), (-55, 0)]
    assert casing.mass_kg == 6.2
    made = SHAPES["flat plate"].make(BARE.but(casing=casing))
    blanks = [f for f in findings_of(made) if f.code == "blank-casing"]
    assert len(blanks) == 1
    assert blanks[0].bars_verdict
    named = made.but(casing=casing.but(name="assist unit"))
    assert "blank-casing" not in codes(named)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"count": 0}, "0 bosses: give 1 to 12"),
        ({"boss_circle_mm": 30.0}, "has no room for the shaft"),
        ({"count": 12, "boss_circle_mm": 80.0}, "do not fit on a circle of 80 mm"),
        ({"mass_kg": 0.0}, "weigh it"),
        ({"thread": "M7q"}, "no bolt size 'M7q'"),
    ],
)
def test_figures_that_make_no_casing_are_refused(given: dict[str, object], said: str) -> None:
    with pytest.raises(EditRefused, match=said):
        example_casing(**given)  # type: ignore[arg-type]
