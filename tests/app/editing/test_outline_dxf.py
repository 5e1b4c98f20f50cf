"""Outlines from DXF drawings: what ordinary exporters write, and what cannot be read."""

from __future__ import annotations

import io
import math
import time
from collections.abc import Callable
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from app.editing.outline_import import ImportedLoops, outline_in, plate_of, read_outline
from app.editing.refused import EditRefused
from geometry.flat_pattern import flat_pattern, refuse_unsound
from geometry.plate import CutOut, Hole, Plate, Slot
from tests.pace import paced

Draw = Callable[[Modelspace, Drawing], object]
RECTANGLE = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]


def dxf(draw: Draw, units: int | None = 4, version: str = "R2010") -> bytes:
    document = ezdxf.new(version)
    if units is not None:
        document.header["$INSUNITS"] = units
    draw(document.modelspace(), document)
    stream = io.StringIO()
    document.write(stream)
    text = stream.getvalue()
    if units is None:
        text = text.replace("$INSUNITS", "$NOTUNITS")  # older files have none
    return text.encode("utf-8")


def loops_of(draw: Draw, units: int | None = 4, version: str = "R2010") -> ImportedLoops:
    return outline_in(dxf(draw, units, version), "mine.dxf")


def plate(loops: ImportedLoops) -> Plate:
    made = plate_of(loops, loops.units or "mm", 5.0, "S275", "plate")
    refuse_unsound(flat_pattern(made))
    return made


def lines(space: Modelspace, places: list[tuple[float, float]]) -> None:
    for a, b in zip(places, places[1:] + places[:1], strict=True):
        space.add_line(a, b)


def test_a_polyline_with_a_bulge_and_openings_of_each_kind() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline([(0, 0, 0), (100, 0, 1), (100, 60, 0), (0, 60, 0)], format="xyb", close=True)
        space.add_circle((20, 20), 5.5)
        space.add_lwpolyline([(50, 20, 0), (70, 20, 1), (70, 30, 0), (50, 30, 1)], format="xyb", close=True)
        space.add_lwpolyline([(20, 40), (30, 40), (30, 50)], close=True)

    made = plate(loops_of(draw))
    assert math.isclose(flat_pattern(made).area_mm2, 6000 + math.pi * 450 - math.pi * 5.5**2
                        - (200 + math.pi * 25) - 50, rel_tol=1e-9)  # fmt: skip
    assert [corner.at_mm for corner in made.outline] == RECTANGLE
    assert made.outline[1].arc_via_mm == pytest.approx((130.0, 30.0))
    by_name = {opening.name: opening for opening in made.openings}
    assert by_name["hole 1"] == Hole(name="hole 1", centre_mm=(20.0, 20.0), diameter_mm=11.0)
    slot = by_name["slot 1"]
    assert isinstance(slot, Slot)
    assert slot.centre_mm == pytest.approx((60.0, 25.0))
    assert (slot.length_mm, slot.width_mm, slot.angle_deg) == pytest.approx((30.0, 10.0, 0.0))
    assert isinstance(by_name["cut-out 1"], CutOut)


@pytest.mark.parametrize(
    ("units", "unit", "width"), [(1, "in", 2540), (4, "mm", 100), (5, "cm", 1000), (6, "m", 1e5)]
)
def test_the_unit_is_the_one_the_file_states(units: int, unit: str, width: float) -> None:
    loops = loops_of(lambda space, _: space.add_lwpolyline(RECTANGLE, close=True), units=units)
    assert loops.units == unit == loops.taken_as
    assert flat_pattern(plate(loops)).polygon.bounds[2] == pytest.approx(width)


@pytest.mark.parametrize(("units", "version"), [(0, "R2010"), (None, "R2000"), (None, "R12")])
def test_a_file_without_a_unit_is_asked_about(units: int | None, version: str) -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_polyline2d([(0, 0), (4, 0), (4, 3), (0, 3)], close=True)

    loops = loops_of(draw, units=units, version=version)
    assert loops.units is None
    assert loops.taken_as == "in"  # as mm it would be 4 mm across
    assert loops.size_mm("in") == pytest.approx((101.6, 76.2))
    made = plate_of(loops, "mm", 5.0, None, "plate")
    assert flat_pattern(made).polygon.bounds == pytest.approx((0, 0, 4, 3))


def test_lines_and_arcs_in_any_order_are_joined() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_line((90, 60), (10, 60))
        space.add_arc((90, 50), 10, 0, 90)
        space.add_line((100, 50), (100, 0))
        space.add_line((0, 0), (100.03, 0.02))  # within 0.05 mm
        space.add_line((0, 50), (0, 0))
        space.add_arc((10, 50), 10, 90, 180)

    made = plate(loops_of(draw))
    assert len(made.outline) == 6
    assert sum(corner.arc_via_mm is not None for corner in made.outline) == 2
    assert flat_pattern(made).area_mm2 == pytest.approx(6000 - 200 + math.pi * 50, abs=3.0)


def test_a_gap_is_told_with_place_and_width() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline([(0, 0), (100, 0), (100, 60), (0, 60), (0, 0.4)])
        space.add_circle((50, 30), 5)

    with pytest.raises(
        EditRefused, match=r"does not close: a line has a gap 0\.40 mm wide at \(0, 0(\.4)?\)"
    ):
        loops_of(draw)


def test_an_open_opening_is_told_and_left_out() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline(RECTANGLE, close=True)
        space.add_lwpolyline([(20, 20), (40, 20), (40, 40), (20, 40), (20, 20.3)])
        space.add_line((-10, 30), (110, 30))

    loops = loops_of(draw)
    assert len(loops.loops) == 1
    assert any("gap 0.30 mm wide at (20, 20" in words for words in loops.words)
    assert any("1 open line is no part of a closed loop" in words for words in loops.words)


def test_lines_that_branch_are_told() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        lines(space, RECTANGLE)
        space.add_line((0, 0), (100, 60))

    with pytest.raises(EditRefused, match=r"cannot be followed. 3 lines meet at \((0, 0|100, 60)\)"):
        loops_of(draw)


def test_fold_lines_on_a_layer_of_their_own_do_not_break_the_outline() -> None:
    def draw(space: Modelspace, document: Drawing) -> None:
        document.layers.add("folds")
        lines(space, [(0, 0), (100, 0), (100, 30), (100, 60), (0, 60), (0, 30)])
        space.add_line((0, 30), (100, 30), dxfattribs={"layer": "folds"})

    loops = loops_of(draw)
    assert len(plate(loops).outline) == 4  # edges that run on straight are one
    assert any("1 open line" in words for words in loops.words)


def test_lines_drawn_twice_count_once() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        lines(space, RECTANGLE)
        lines(space, RECTANGLE[::-1])
        space.add_circle((50, 30), 5)
        space.add_circle((50, 30), 5)

    loops = loops_of(draw)
    assert len(loops.loops) == 2
    assert any("5 lines are drawn twice" in words for words in loops.words)


def test_what_lies_deeper_or_outside_is_told() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline(RECTANGLE, close=True)
        space.add_circle((50, 30), 10)
        space.add_circle((50, 30), 8)
        space.add_circle((150, 30), 8)

    loops = loops_of(draw)
    assert len(loops.loops) == 2
    assert any("1 closed line lies within an opening" in words for words in loops.words)
    assert any("1 closed line lies outside the outline" in words for words in loops.words)


def test_a_loop_across_the_outline_is_kept_so_that_it_is_found_out() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline(RECTANGLE, close=True)
        space.add_circle((100, 30), 10)

    assert len(loops_of(draw).loops) == 2


def test_blocks_mirrored_turned_repeated_and_nested() -> None:
    def draw(space: Modelspace, document: Drawing) -> None:
        hole = document.blocks.new("hole")
        hole.add_circle((1, 0), 2)
        pair = document.blocks.new("pair")
        pair.add_blockref("hole", (0, 0))
        pair.add_blockref("hole", (0, 10), dxfattribs={"xscale": -1})
        outline = document.blocks.new("outline")
        outline.add_lwpolyline([(0, 0, 0), (100, 0, 1), (100, 60, 0), (0, 60, 0)], format="xyb", close=True)
        space.add_blockref("outline", (0, 0), dxfattribs={"xscale": -1})
        space.add_blockref("pair", (-60, 20), dxfattribs={"rotation": 90})
        grid = space.add_blockref("hole", (-30, 10))
        grid.grid((2, 3), (15, 8))

    made = plate(loops_of(draw))
    assert flat_pattern(made).area_mm2 == pytest.approx(6000 + math.pi * 450 - 8 * math.pi * 4)
    centres = sorted(o.centre_mm for o in made.openings if isinstance(o, Hole))
    assert len(centres) == 8
    # the outline reaches from x = -130 to 0, and its lower left is the origin
    assert (60.0, 19.0) in [(round(x, 6), round(y, 6)) for x, y in centres]  # turned 90 deg and mirrored
    assert (70.0, 21.0) in [(round(x, 6), round(y, 6)) for x, y in centres]


def test_arcs_seen_from_the_back() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline(
            [(0, 0, 0), (100, 0, 1), (100, 60, 0), (0, 60, 0)],
            format="xyb",
            close=True,
            dxfattribs={"extrusion": (0, 0, -1)},
        )
        space.add_arc(
            (20, 30), 10, 90, 270, dxfattribs={"extrusion": (0, 0, -1)}
        )  # bulges to +x in the world
        space.add_line((-20, 20), (-20, 40))

    made = plate(loops_of(draw))
    assert flat_pattern(made).area_mm2 == pytest.approx(6000 + math.pi * 450 - math.pi * 50)
    (half,) = made.openings
    assert isinstance(half, CutOut)
    via = next(corner.arc_via_mm for corner in half.corners if corner.arc_via_mm)
    assert via == pytest.approx((120.0, 30.0))


def test_ellipses_and_splines_are_followed_within_a_hundredth() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_ellipse((0, 0), (80, 0), 0.6)
        space.add_spline(fit_points=[(-30, 0), (0, 20), (30, 0), (0, -20), (-30, 0)], degree=3)

    loops = loops_of(draw)
    made = plate(loops)
    pattern = flat_pattern(made)
    places = np.concatenate([edge.at(np.linspace(0, 1, 9)) for edge in pattern.outline]) - (80, 48)
    off = np.abs(np.hypot(places[:, 0] / 80, places[:, 1] / 48) - 1) * 48
    assert off.max() < 0.012
    assert len(made.outline) < 60
    # follows smoothly: no sharp inside corner is seen along a smooth curve, one where the spline starts
    assert len(pattern.sharp_inside_corners()) <= 1


def test_rational_and_high_splines_are_followed() -> None:
    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline([(-100, -100), (100, -100), (100, 100), (-100, 100)], close=True)
        half = math.sqrt(0.5)
        space.add_rational_spline(
            [(50, 0), (50, 50), (0, 50), (-50, 50), (-50, 0), (-50, -50), (0, -50), (50, -50), (50, 0)],
            weights=[1, half, 1, half, 1, half, 1, half, 1],
            degree=2,
            knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
        )

    (opening,) = plate(loops_of(draw)).openings
    assert isinstance(opening, Hole)
    assert opening.diameter_mm == pytest.approx(100.0, abs=0.01)
    assert opening.centre_mm == pytest.approx((100.0, 100.0), abs=0.01)


def test_what_draws_no_edge_is_told() -> None:
    def draw(space: Modelspace, document: Drawing) -> None:
        document.layers.add("away").off()
        space.add_lwpolyline(RECTANGLE, close=True)
        space.add_text("plate").set_placement((10, 10))
        space.add_hatch()
        space.add_circle((50, 30), 5, dxfattribs={"layer": "away"})
        space.add_circle((50, 30), 5, dxfattribs={"extrusion": (1, 0, 0)})
        space.add_line((0, 0, 0), (10, 10, 10))

    loops = loops_of(draw)
    assert len(loops.loops) == 1
    for words in ("1 text", "1 hatching", "1 on a layer that is off", "2 not lying in the drawing's plane"):
        assert f"Left out: {words}." in loops.words


def test_many_sided_circles_become_holes() -> None:
    turn = np.linspace(0, 2 * math.pi, 73)[:-1]

    def draw(space: Modelspace, _document: Drawing) -> None:
        space.add_lwpolyline(RECTANGLE, close=True)
        space.add_lwpolyline([(50 + 5 * math.cos(a), 30 + 5 * math.sin(a)) for a in turn], close=True)
        space.add_lwpolyline([(20 + 5 * math.cos(a), 30 + 5 * math.sin(a)) for a in turn[::12]], close=True)

    kinds = [opening.kind for opening in plate(loops_of(draw)).openings]
    assert kinds == ["hole", "cut-out"]


def bad_files() -> dict[str, tuple[bytes, str]]:
    good = dxf(lambda space, _: space.add_lwpolyline(RECTANGLE, close=True))
    return {
        "empty": (b"  \n", "is empty"),
        "truncated": (good[: len(good) * 2 // 3], "breaks off before its end"),
        "binary": (b"\x00\x01\x02SECTION", "binary"),
        "picture": (b"\x89PNG\r\n\x1a\n" + bytes(100), "binary"),
        "words": (b"dear reader", "is not a DXF drawing"),
        "garbled": (b"0\nSECTION\n2\nENTITIES\nnonsense\n0\nEOF", "cannot be read as a DXF drawing"),
        "nothing": (dxf(lambda *_: None), "draws no lines"),
        "text": (dxf(lambda space, _: space.add_text("hello")), "draws no lines.*Left out: 1 text"),
        "open": (dxf(lambda space, _: space.add_line((0, 0), (1, 1))), "no closed line"),
        "crossing": (
            dxf(lambda space, _: space.add_lwpolyline([(0, 0), (99, 60), (99, 0), (0, 70)], close=True)),
            r"crosses or touches itself near \(\d\S+, \d\S+\), in mm",
        ),
        "no number": (
            good.replace(b"100.0", b"nan"),
            "draws no lines.*Left out: 1 with impossible coordinates",
        ),
    }


@pytest.mark.parametrize("kind", list(bad_files()))
def test_bad_files_are_refused_in_one_sentence(kind: str) -> None:
    content, words = bad_files()[kind]
    with pytest.raises(EditRefused, match=words):
        outline_in(content, "mine.dxf")


def test_blocks_within_blocks_cannot_fill_the_memory() -> None:
    def draw(space: Modelspace, document: Drawing) -> None:
        document.blocks.new("b0").add_circle((0, 0), 1)
        for i in range(9):
            block = document.blocks.new(f"b{i + 1}")
            for j in range(10):
                block.add_blockref(f"b{i}", (j, i))
        space.add_blockref("b9", (0, 0))
        space.add_blockref("b0", (0, 0)).grid((30_000, 30_000), (1, 1))

    with pytest.raises(EditRefused, match="more than 20000 edges"):
        loops_of(draw)


def test_files_of_nothing_but_bulk_are_refused_at_once() -> None:
    bulk = b"0\nSECTION\n2\nENTITIES\n" + b"0\nX\n" * 900_000 + b"0\nEOF"
    spline = dxf(lambda space, _: space.add_spline([(math.cos(i), math.sin(3 * i)) for i in range(4_000)]))
    begun = time.process_time()
    for content in (bulk, spline):
        with pytest.raises(EditRefused, match="more than 20000 edges"):
            outline_in(content, "mine.dxf")
    assert time.process_time() - begun < paced(10.0)


def test_a_file_that_is_not_there_or_too_big(tmp_path: Path) -> None:
    with pytest.raises(EditRefused, match="it is not there"):
        read_outline(tmp_path / "none.dxf")
    with pytest.raises(EditRefused, match="is a folder"):
        read_outline(tmp_path)
    big = tmp_path / "big.dxf"
    big.write_bytes(b"0\n" * 2_600_000)
    with pytest.raises(EditRefused, match=r"big\.dxf is over 5 MB"):
        read_outline(big)


def test_a_plate_that_cannot_be_is_refused() -> None:
    loops = loops_of(lambda space, _: space.add_lwpolyline(RECTANGLE, close=True))
    with pytest.raises(EditRefused, match="makes no plate"):
        plate_of(loops, "mm", 0.0, None, "plate")
