"""The table of a comparison, what layouts are made of, and what differs in their inputs."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from app.compare.comparison import Comparison, Figure, compare
from app.compare.differences import differences_of
from app.compare.judged import Judged
from app.compare.layout import Layout, sawn_twin, told_apart, variant_layouts
from app.compare.makings import makings_of
from app.editing.refused import EditRefused
from app.editing.variants import with_variant
from app.wording.lash_words import WITHOUT_END
from geometry.bracket import Bracket
from geometry.fit_up import FitUp
from geometry.installation import Installation
from solver import movement_checks
from tests.app.example_results import STRESS, example_bracket, example_results
from tests.app.lesson.samples import sample
from tests.brackets import one_piece, straps


def both(first: Bracket | None = None, second: Bracket | None = None) -> Comparison:
    one, other = (
        example_bracket() if first is None else first,
        example_bracket() if second is None else second,
    )
    stress = replace(STRESS, name="stress, front")
    worse = replace(stress, demand=120.0)
    known = example_results()
    results = replace(known, checks=tuple(stress if c is STRESS else c for c in known.checks))
    changed = replace(results, checks=tuple(worse if c is stress else c for c in results.checks))
    return compare([Judged(Layout("A", one), results), Judged(Layout("B", other), changed)])


def row(found: Comparison, words: str) -> Figure:
    return next(f for f in (*found.checks, *found.figures) if f.words == words)


def test_every_check_has_a_row_with_the_difference_at_the_bands_upper_end() -> None:
    found = both()
    stress = row(found, "stress")
    used = (98.0 / 156.7 * 1.031, 120.0 / 156.7 * 1.031)
    assert stress.values == pytest.approx(used)
    assert stress.text(0) == "64 %"
    assert stress.difference(1) == f"+{100 * (used[1] - used[0]):.0f} %"
    assert {f.words for f in found.checks} >= {"stress", "slip, bolt 3", "turn under the couple"}
    assert row(found, "edge distance e1, hole h2").text(0) == "met"
    assert found.checks[-1].words == "edge distance e1, hole h2"


def test_figures_are_there_with_their_units() -> None:
    found = both()
    assert row(found, "holds to").text(0) == "71.3 N.m"
    assert row(found, "friction share").text(1) == "21 %"
    assert row(found, "resists the twist, bolts stuck").text(0) == "812 N.m/deg"
    assert row(found, "resists the twist, bolts slipped").difference(1) == "same"
    assert row(found, "parts").text(0) == "2"


def test_what_has_no_limit_is_told_without_a_unit() -> None:
    figure = Figure("holds to", "N.m", (1.0, math.inf))
    assert figure.text(1) == "no limit"
    assert figure.difference(1) == ""


def test_lash_that_nothing_ends_is_told_as_everywhere() -> None:
    known = example_results()
    assert known.casing is not None
    endless = replace(known, casing=replace(known.casing, lash_deg=math.inf))
    found = compare([Judged(Layout(n, example_bracket()), r) for n, r in (("A", known), ("B", endless))])
    lash = row(found, "lash, both ways together")
    assert (lash.text(0), lash.text(1), lash.difference(1)) == ("0.731 deg", WITHOUT_END, "")
    assert WITHOUT_END in movement_checks._lash(math.inf, "deg")


def test_makings_by_hand() -> None:
    plate = example_bracket().plates[0]
    made = makings_of(example_bracket())
    area = 80.0 * 60.0 - math.pi * 4.5**2
    assert made.mass_kg == pytest.approx(area * plate.thickness_mm * 7850e-9, rel=1e-3)
    assert made.cut_length_mm == pytest.approx(2 * (80 + 60) + math.pi * 9.0)
    assert (made.plates, made.bolts, made.parts) == (1, 1, 2)


def test_a_blank_material_leaves_the_mass_blank() -> None:
    one = example_bracket()
    made = makings_of(one.but(plates=(one.plates[0].but(material=None),)))
    assert made.mass_kg is None
    assert made.cut_length_mm is not None


def told(first: Bracket, second: Bracket) -> list[str]:
    return [d.sentence for d in differences_of([Layout("A", first), Layout("B", second)])]


def test_differences_are_told_in_words() -> None:
    one = one_piece()
    plate = one.plates[0]
    other = one.with_plate(plate.but(thickness_mm=4.0)).with_bolt(one.bolt("1").but(size="M10"))
    assert told(one, other) == [
        "thickness of plate: 6 mm in A, 4 mm in B",
        "size of bolt 1: M8 in A, M10 in B",
    ]
    assert told(one, one) == []


def test_bolts_that_differ_alike_share_a_line() -> None:
    one = one_piece()
    other = one.but(bolts=tuple(b.but(grade="10.9") for b in one.bolts))
    assert told(one, other) == ["grade of bolts 1, 2, 3, 4, 5, 6 and 7: 8.8 in A, 10.9 in B"]


def test_how_bolts_are_locked_is_an_input() -> None:
    """A locking nut takes some of the torque."""
    one = one_piece()
    other = one.with_bolt(one.bolt("4").but(locking="locking nut", prevailing_nm=2.0))
    assert told(one, other) == [
        "locking of bolt 4: lock plate in A, locking nut in B",
        "prevailing torque of its nut of bolt 4: blank in A, 2 N.m in B",
    ]


def test_rounding_is_no_difference() -> None:
    """A lash of 3.52 deg beside one of 3.52 deg was told as +0.00000251."""
    assert Figure("lash", "deg", (3.52, 3.52 + 2.51e-6)).difference(1) == "same"
    assert Figure("holds to", "N.m", (54.9, 54.94)).difference(1) == "+0.0400 N.m"
    assert Figure("turn", "deg", (2e-6, 3e-6)).difference(1) != "same"


def test_a_plate_named_one_is_not_called_so_twice() -> None:
    two = sample("two_piece_bolted")
    told_of = [s for s in told(two, sawn_twin(two)) if s.startswith("only in ")]
    assert told_of == ["only in A: bar plate", "only in B: bar plate a and bar plate b"]


def test_things_that_are_in_one_alone_are_named_once() -> None:
    one = one_piece()
    sentences = told(one, one.without_bolt("6").without_bolt("7"))
    assert sentences == ["only in A: bolts 6 and 7"]
    assert not any("thickness" in s for s in told(one, straps("side by side")))


def test_an_outline_with_moved_corners_is_seen() -> None:
    one = example_bracket()
    plate = one.plates[0]
    inner = plate.outline[1].but(at_mm=(80.0, 5.0))
    moved = one.with_plate(plate.but(outline=(plate.outline[0], inner, *plate.outline[2:])))
    assert told(one, moved) == ["outline of plate front: corners lie elsewhere"]


def test_title_note_and_variants_are_no_inputs() -> None:
    one = one_piece()
    assert told(one, one.but(title="other", note="other", layout="other")) == []


def test_the_sawn_twin_has_two_pieces_with_bolts_in_each() -> None:
    one = one_piece()
    twin = sawn_twin(one)
    assert len(twin.plates) == 2
    assert [b.name for b in twin.bolts] == [b.name for b in one.bolts]
    assert {b.plate for b in twin.bolts} == {p.name for p in twin.plates}


def test_what_cannot_be_sawn_says_so() -> None:
    with pytest.raises(EditRefused, match="no plate can be sawn in two"):
        sawn_twin(Bracket())


def test_variants_are_layouts_of_the_same_car() -> None:
    one = one_piece()
    kept = with_variant(one, "sawn through", sawn_twin(one))
    (layout,) = variant_layouts(kept, "marlpit")
    assert layout.name == "marlpit (sawn through)"
    assert len(layout.bracket.plates) == 2
    assert layout.bracket.loads == one.loads


def test_layouts_of_one_name_are_told_apart() -> None:
    names = [
        x.name for x in told_apart([Layout("a", Bracket()), Layout("a", Bracket()), Layout("b", Bracket())])
    ]
    assert names == ["a no. 1", "a no. 2", "b"]


def test_fit_up_and_what_stands_around_are_told_as_differences() -> None:
    one = example_bracket()
    around = Installation.model_validate({"wiring": {"fuse_a": 80}})
    other = one.but(fit_up=FitUp(), installation=around)
    told = [d for d in differences_of([Layout("A", one), Layout("B", other)]) if d.kind != "load"]
    assert [d.what for d in told] == ["around the bracket", "fit-up"]
    assert [d.kind for d in told] == ["car", "layout"]
