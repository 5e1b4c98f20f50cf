"""A mend makes its finding vanish."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from app.editing.mends import mend_of, sharp_corners
from app.editing.openings import add_cut_out
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from geometry.flat_pattern import flat_pattern
from tests.app.editing.plates import MAIN, plate
from tests.brackets import one_piece
from tests.geometry.example_bracket import example_bracket
from tests.geometry.finding_case import Data, both, bracket_with, put

_FOLD = {"name": "lip", "from_mm": [-70, -34], "to_mm": [70, -34], "inside_radius_mm": 7}
_ARC = {"at_mm": [-70, 140], "radius_mm": 8, "arc_via_mm": [-80, 50]}


def _main(data: Data) -> Any:  # noqa: ANN401 - data is anything JSON holds
    return data["plates"][0]


def _replaced(*, hole: int, by: dict[str, object]) -> Callable[[Data], object]:
    return lambda data: _main(data)["openings"].__setitem__(hole, by)


def _appended(where: str, *more: object) -> Callable[[Data], object]:
    return lambda data: _main(data).setdefault(where, []).extend(more)


def _crowd(data: Data) -> None:
    """Put a corner so near to the second that its radius does not fit."""
    _main(data)["outline"].insert(1, {"at_mm": [65, -50]})


def _without_bolt_two(data: Data) -> None:
    del data["bolts"][1]


SLOT = {"kind": "slot", "name": "left", "centre_mm": [-40, 0], "length_mm": 14, "width_mm": 9}

CASES: list[tuple[str, Callable[[Data], object], str]] = [
    ("hole-too-small", put("plates", 0, "openings", 0, "diameter_mm", to=7), "make hole left 9 mm"),
    ("hole-tight", put("plates", 0, "openings", 0, "diameter_mm", to=8.1), "ISO 273 medium for M8"),
    ("hole-loose", put("plates", 0, "openings", 2, "diameter_mm", to=12), "make hole upper left 9 mm"),
    ("bolt-in-slot", _replaced(hole=0, by=SLOT), "make slot left a round hole of 9 mm"),
    ("bolt-offset", put("plates", 0, "openings", 0, "centre_mm", to=[-38, 1]), "move hole left by 2.24 mm"),
    ("boss-unused", _without_bolt_two, "bolt it through hole right of plate main"),
    ("bend-tight", _appended("folds", _FOLD), "give fold lip an inside radius of 8 mm"),
    ("shape-impossible", _appended("folds", {**_FOLD, "inside_radius_mm": 0.1}), "an inside radius of 8 mm"),
    ("shape-impossible", _crowd, "round corner 3 with 5 mm, the largest that fits"),
    (
        "shape-impossible",
        both(put("plates", 0, "outline", 3, to=_ARC), put("plates", 0, "outline", 0, "radius_mm", to=0)),
        "leave out the radius of corner 4",
    ),
    (
        "shape-impossible",
        lambda data: _main(data)["outline"].insert(2, {"at_mm": [70, -50]}),
        "remove one of the two corners at the same place",
    ),
    (
        "shape-impossible",
        both(
            put("plates", 0, "outline", 0, to={"at_mm": [-70, -50], "arc_via_mm": [0, -50]}),
            put("plates", 0, "outline", 1, "radius_mm", to=0),
        ),
        "make edge 1 straight",
    ),
    ("name-doubled", put("bolts", 3, "name", to="3"), "give each bolt 3 a name of its own"),
    (
        "name-doubled",
        _appended("folds", _FOLD, {**_FOLD, "from_mm": [-70, 90], "to_mm": [70, 90]}),
        "give each fold lip a name of its own",
    ),
    (
        "envelope-inside-out",
        put("casing", "envelope", to={"low_mm": [60, -60, -150], "high_mm": [-60, 60, 0]}),
        "swap the two ends of the envelope along X",
    ),
]  # fmt: skip


def first(bracket: Bracket, code: str) -> Finding:
    found = [finding for finding in findings_of(bracket) if finding.code == code]
    assert found, [finding.code for finding in findings_of(bracket)]
    return found[0]


@pytest.mark.parametrize(("code", "make", "words"), CASES, ids=[f"{c[0]}: {c[2][:30]}" for c in CASES])
def test_a_mend_makes_its_finding_vanish(code: str, make: Callable[[Data], object], words: str) -> None:
    bracket = bracket_with(make)
    finding = first(bracket, code)
    mend = mend_of(bracket, finding)
    assert mend is not None
    assert words in mend.words
    after = [(there.code, there.where) for there in findings_of(mend.apply(bracket))]
    assert (finding.code, finding.where) not in after


def test_mending_one_after_another_leaves_the_example_sound() -> None:
    def spoil(data: Data) -> None:
        put("plates", 0, "openings", 0, "diameter_mm", to=12)(data)
        put("plates", 0, "openings", 1, "centre_mm", to=[41, 3])(data)
        _crowd(data)

    bracket = bracket_with(spoil)
    for _ in range(9):
        mends = [mend for finding in findings_of(bracket) if (mend := mend_of(bracket, finding)) is not None]
        if not mends:
            break
        bracket = mends[0].apply(bracket)
    assert findings_of(bracket) == ()


@pytest.mark.parametrize(
    ("code", "make"),
    [
        ("blank-grade", put("bolts", 0, "grade", to=None)),
        ("hole-used-twice", put("bolts", 1, "hole", to="left")),
        # The boss lies where a hole would leave the plate: which of the two is wrong is not certain.
        ("bolt-offset", put("casing", "bosses", 0, "at_mm", to=[-68, 0, 0])),
        # The hole left of the boss carries a bolt already.
        ("boss-unused", lambda data: data["casing"]["bosses"].append(
            {"name": "c", "at_mm": [-40, 0, 0], "thread": "M8", "face_diameter_mm": 20}
        )),
    ],
)  # fmt: skip
def test_where_it_is_not_certain_there_is_no_mend(code: str, make: Callable[[Data], object]) -> None:
    bracket = bracket_with(make)
    assert mend_of(bracket, first(bracket, code)) is None


def test_a_finding_about_another_bracket_has_no_mend() -> None:
    tight = bracket_with(_appended("folds", _FOLD))
    assert mend_of(example_bracket(), first(tight, "bend-tight")) is None


def test_a_hole_is_moved_on_a_folded_plate() -> None:
    bracket = one_piece(folded=True)
    hole = bracket.plate("plate").opening("1")
    spoilt = bracket.with_plate(bracket.plate("plate").with_opening(hole.but(centre_mm=(-29, 18))))
    mend = mend_of(spoilt, first(spoilt, "bolt-offset"))
    assert mend is not None
    moved = mend.apply(spoilt).plate("plate").opening("1")
    assert moved.centre_mm == pytest.approx(hole.centre_mm, abs=1e-5)  # type: ignore[union-attr]


def test_a_sharp_inside_corner_is_rounded_by_one_click() -> None:
    bracket = add_cut_out(example_bracket(), MAIN, [(-40, 40), (40, 40), (40, 70), (-40, 70)])
    cut_out = bracket.plate(MAIN).openings[-1]
    sharp = cut_out.but(corners=tuple(c.but(radius_mm=0) for c in cut_out.corners))  # type: ignore[union-attr]
    bracket = bracket.with_plate(bracket.plate(MAIN).with_opening(sharp))
    found = sharp_corners(bracket, MAIN)
    assert [(c.loop, c.index, c.at_mm) for c in found][:2] == [
        ("cut-out 1", 0, (-40, 40)),
        ("cut-out 1", 1, (40, 40)),
    ]
    for corner in found:
        assert corner.mend is not None
        assert corner.mend.words == "round the corner with 6 mm"
        bracket = corner.mend.apply(bracket)
    assert sharp_corners(bracket, MAIN) == ()
    assert flat_pattern(bracket.plate(MAIN)).sharp_inside_corners() == ()


def test_a_sharp_corner_at_an_arc_has_no_mend() -> None:
    base = example_bracket()
    waisted = plate().but(name=MAIN, openings=(), folds=())
    found = {c.index: c.mend for c in sharp_corners(base.with_plate(waisted), MAIN)}
    assert found == {6: None}
