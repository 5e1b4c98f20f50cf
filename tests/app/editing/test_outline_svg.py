"""Outlines from SVG drawings: what ordinary exporters write, and what could do harm."""

from __future__ import annotations

import math
import time

import pytest

from app.editing.outline_import import ImportedLoops, outline_in, plate_of
from app.editing.refused import EditRefused
from geometry.flat_pattern import flat_pattern, refuse_unsound
from geometry.plate import Hole, Plate, Slot
from tests.pace import paced

MM = 'width="200mm" height="100mm" viewBox="0 0 200 100"'
OUTLINE = '<rect x="10" y="10" width="120" height="60"/>'


def loops_of(body: str, root: str = MM, before: str = "") -> ImportedLoops:
    text = (
        f'<?xml version="1.0" encoding="UTF-8"?>{before}<svg xmlns="http://www.w3.org/2000/svg"'
        f' xmlns:xlink="http://www.w3.org/1999/xlink" {root}>{body}</svg>'
    )
    return outline_in(text.encode(), "mine.svg")


def plate(loops: ImportedLoops) -> Plate:
    made = plate_of(loops, loops.units or loops.taken_as, 5.0, "S275", "plate")
    refuse_unsound(flat_pattern(made))
    return made


def holes(made: Plate) -> dict[tuple[float, float], float]:
    return {
        (round(o.centre_mm[0], 3), round(o.centre_mm[1], 3)): round(o.diameter_mm, 3)
        for o in made.openings
        if isinstance(o, Hole)
    }


def test_a_rectangle_with_holes_is_upright_and_in_mm() -> None:
    loops = loops_of(OUTLINE + '<circle cx="20" cy="20" r="4"/><ellipse cx="120" cy="60" rx="5" ry="5"/>')
    assert loops.units == "mm"
    made = plate(loops)
    assert flat_pattern(made).polygon.bounds == pytest.approx((0, 0, 120, 60))
    assert holes(made) == {(10.0, 50.0): 8.0, (110.0, 10.0): 10.0}  # y runs up


@pytest.mark.parametrize(
    ("root", "unit", "width"),
    [
        ('width="20cm" height="10cm" viewBox="0 0 200 100"', "mm", 120.0),
        ('width="2in" height="1in" viewBox="0 0 200 100"', "mm", 1.2 * 25.4),
        ('width="200mm" height="100mm"', "mm", 120 * 25.4 / 96),
        ('width="200" height="100" viewBox="0 0 400 200"', None, 120 * 25.4 / 96),
        ('width="100%" height="100%" viewBox="0 0 200 100"', None, 120 * 25.4 / 96),
        ('viewBox="0, 0, 200, 100"', None, 120 * 25.4 / 96),
        ("", None, 120 * 25.4 / 96),
    ],
)
def test_the_unit_comes_from_width_and_view_box(root: str, unit: str | None, width: float) -> None:
    loops = loops_of(OUTLINE, root)
    assert loops.units == unit
    if unit is None:
        assert loops.taken_as == "px"
        assert loops.size_mm("mm")[0] == pytest.approx(120.0)
    assert flat_pattern(plate(loops)).polygon.bounds[2] == pytest.approx(width)


def test_rounded_rectangles_and_slots_keep_their_arcs() -> None:
    made = plate(
        loops_of(
            '<rect x="10" y="10" width="120" height="60" rx="8"/>'
            '<rect x="40" y="20" width="30" height="10" rx="5"/>'
        )
    )
    assert sum(corner.arc_via_mm is not None for corner in made.outline) == 4
    assert flat_pattern(made).area_mm2 == pytest.approx(
        7200 - (4 - math.pi) * 64 - (200 + math.pi * 25), rel=1e-6
    )
    (slot,) = made.openings
    assert isinstance(slot, Slot)
    assert (slot.length_mm, slot.width_mm) == pytest.approx((30.0, 10.0))


def test_circles_written_as_four_cubic_curves_become_holes() -> None:
    k = 0.5522847498 * 5
    low, high = 30 - k, 30 + k
    path = f"M 35 30 C 35 {high} {high} 35 30 35 S 25 {high} 25 30 S {low} 25 30 25 S 35 {low} 35 30 z"
    made = plate(loops_of(OUTLINE + f'<path d="{path}"/>'))
    assert holes(made) == {(20.0, 40.0): pytest.approx(10.0, abs=0.01)}


def test_curves_are_followed_within_a_hundredth() -> None:
    made = plate(loops_of('<path d="M 10 50 C 40 0 100 0 130 50 Q 70 90 10 50 z"/>'))
    assert len(made.outline) < 40
    # over the line between the ends the integral of 150 t (1 - t) dx; under it two thirds of a triangle
    over = 450 * (30 / 20 + 120 / 30 + 30 / 20)
    under = 2 / 3 * (120 * 40 / 2)
    assert flat_pattern(made).area_mm2 == pytest.approx(over + under, abs=0.01 * 260)


def test_transforms_nested_groups_and_use() -> None:
    body = (
        '<defs><circle id="hole" cx="0" cy="0" r="2"/><g id="pair"><use xlink:href="#hole"/>'
        '<use href="#hole" x="20"/></g></defs>'
        '<symbol id="unseen"><circle cx="60" cy="40" r="9"/></symbol>'
        '<symbol id="seen"><circle cx="100" cy="60" r="3"/></symbol>'
        f'<g transform="translate(5 5)"><g transform="scale(1 1)">{OUTLINE}</g>'
        '<g transform="rotate(90 30 30)"><use xlink:href="#pair" transform="translate(30 30)"/></g>'
        '<use href="#seen"/></g>'
    )
    made = plate(loops_of(body))
    assert flat_pattern(made).polygon.bounds == pytest.approx((0, 0, 120, 60))
    assert holes(made) == {(20.0, 40.0): 4.0, (20.0, 20.0): 4.0, (90.0, 10.0): 6.0}


def test_a_circle_squeezed_by_a_transform_is_no_hole() -> None:
    made = plate(loops_of(OUTLINE + '<circle cx="60" cy="20" r="5" transform="scale(1 2)"/>'))
    (opening,) = made.openings
    assert opening.kind == "cut-out"
    assert flat_pattern(made).area_mm2 == pytest.approx(7200 - math.pi * 50, abs=0.3)


def test_what_is_not_shown_is_not_read() -> None:
    body = (
        "<style>.gone { display: none }</style>"
        '<clipPath id="c"><rect x="1" y="1" width="190" height="90"/></clipPath>'
        '<mask id="m"><rect x="1" y="1" width="190" height="90"/></mask>'
        '<marker id="k"><circle r="90"/></marker>'
        '<pattern id="p"><rect width="199" height="99"/></pattern>'
        f'<g clip-path="url(#c)">{OUTLINE}</g>'
        '<circle cx="30" cy="30" r="3" style="display:none"/>'
        '<circle cx="40" cy="30" r="3" class="gone"/>'
        '<g display="none"><circle cx="50" cy="30" r="3"/></g>'
        '<circle cx="60" cy="30" r="3" visibility="hidden"/>'
        '<text x="20" y="20">plate</text>'
        '<image href="http://127.0.0.1:9/never.png" width="10" height="10"/>'
        '<circle cx="70" cy="30" r="3"/>'
    )
    loops = loops_of(body)
    assert holes(plate(loops)) == {(60.0, 40.0): 6.0}
    assert "Left out: 1 text." in loops.words
    assert "Left out: 1 picture." in loops.words


def test_open_paths_are_joined_or_told() -> None:
    joined = loops_of(
        '<path d="M 10 10 H 130"/><path d="M 130 10.02 V 70"/><polyline points="10,10 10,70 130,70"/>'
    )
    assert len(joined.loops) == 1
    with pytest.raises(EditRefused, match=r"gap 0\.50 mm wide at \(10, -10\)"):
        loops_of('<path d="M 10 10 H 130 V 70 H 10 V 10.5"/>')


BOMB = (
    '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefgh", "bcdefghi", strict=True))
    + "]>"
)  # fmt: skip


@pytest.mark.parametrize(
    ("before", "body", "words"),
    [
        (BOMB, "<title>&i;</title>" + OUTLINE, "declares entities"),
        ('<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hosts">]>', "<title>&x;</title>", "declares"),
        ('<!DOCTYPE svg [<!ENTITY % x SYSTEM "http://127.0.0.1:9/x"> %x;]>', OUTLINE, "declares entities"),
        ("", "<g>" * 200 + OUTLINE + "</g>" * 200, "more than 60 groups"),
        ("", '<g id="a"><use href="#a"/></g>', "uses itself"),
        ("", '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', "uses itself"),
        (
            "",
            '<g id="g0"><circle r="1"/></g>'
            + "".join(f'<g id="g{i + 1}">' + f'<use href="#g{i}"/>' * 10 + "</g>" for i in range(9)),
            "more than 20000 edges",
        ),
        ("", f'<polygon points="{"1" * 4_000_000}"/>', "absurd length"),
        ("", f'<g transform="{"rotate(1) " * 400_000}">{OUTLINE}</g>', "absurd length"),
        ("", f"<style>{'/*' * 2_000_000}</style>{OUTLINE}", "absurd length"),
        ("", f'<path d="M 0 0 {"1 2 " * 1_000_000}"/>', "more than 20000 edges"),
        ("", f'<path id="a" d="M 0 0 {"1 2 " * 9_000}"/>' + '<use href="#a"/>' * 99, "more than 20000 edges"),
        ("", "<g>", "is broken, or breaks off, at line 1"),
        ("", "", "draws no lines"),
        ("", "<text>hello</text>", "draws no lines.*Left out: 1 text"),
        ("", '<path d="M 0 0 L nonsense"/>', "mine.svg draws no lines"),
        ("", '<path d="M 0 0 H 1e300 V 1e300 z"/>', "impossible coordinates"),
        ("", '<line x1="0" y1="0" x2="5" y2="5"/>', "no closed line"),
    ],
)  # fmt: skip
def test_harmful_and_broken_files_are_refused_at_once(before: str, body: str, words: str) -> None:
    begun = time.process_time()
    with pytest.raises(EditRefused, match=words):
        loops_of(body, before=before)
    assert time.process_time() - begun < paced(5.0)


def test_a_document_type_alone_is_harmless_and_fetches_nothing() -> None:
    loops = loops_of(
        OUTLINE, before='<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://127.0.0.1:9/x.dtd">'
    )
    assert len(loops.loops) == 1


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\x1f\x8b\x08\x00\x00", "compressed"),
        (b"<html><body/></html>", "not an SVG drawing"),
        (b"", "is empty"),
        ("<svg/>".encode("utf-16"), "draws no lines"),
        (b"<?xml version='1.0' encoding='no-such'?><svg/>", "is broken"),
    ],
)  # fmt: skip
def test_other_content_is_refused(content: bytes, words: str) -> None:
    with pytest.raises(EditRefused, match=words):
        outline_in(content, "mine.svg")
