"""Cutter's files: read back they are the same plate, closed, of the right kinds, whatever the plate."""

from __future__ import annotations

import io
import math
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from app.cutting.cut_file import CutFileError, cut_content, write_cut
from app.cutting.cut_lines import NOT_JUDGED, cut_lines
from app.editing.outline_import import outline_in, plate_of
from geometry.bracket_file import read_bracket
from geometry.flat_pattern import chopped, flat_pattern
from geometry.plate import Corner, FoldLine, Hole, Plate
from tests.app.editing.plates import plate as example_plate
from tests.app.running import Runner

SAMPLES = Path(__file__).parents[3] / "sample_brackets"
PLATES = [
    pytest.param(plate, id=name)
    for plate, name in {
        plate: f"{path.name.removesuffix('.bracket.json')} {plate.name}"
        for path in sorted(SAMPLES.glob("*.bracket.json"))
        for bracket in [read_bracket(path).bracket]
        if bracket is not None
        for plate in bracket.plates
    }.items()
]
"""Every plate of the samples; some samples have one in common."""
FORMS = [(".svg", False), (".dxf", False), (".dxf", True)]
WITHIN_MM = 0.01
_SVG = "{http://www.w3.org/2000/svg}"


def shape_of(plate: Plate) -> list[Polygon]:
    """Return outline and openings, finely chopped, by rising place."""
    pattern = flat_pattern(plate)
    loops = [Polygon(chopped(loop, 500)) for loop in (pattern.outline, *pattern.openings.values())]
    low_x, low_y, *_ = loops[0].bounds
    moved = [shapely.transform(p, lambda xy: xy - np.array([low_x, low_y])) for p in loops]
    return sorted(moved, key=lambda p: (-round(p.area, 2), round(p.centroid.x, 2), round(p.centroid.y, 2)))


def same(one: Plate, other: Plate) -> bool:
    """Return whether every edge of one plate lies within a hundredth of the other's."""
    a, b = shape_of(one), shape_of(other)
    return len(a) == len(b) and all(
        shapely.hausdorff_distance(p.exterior, q.exterior) < WITHIN_MM for p, q in zip(a, b, strict=True)
    )


def big_arc() -> Plate:
    """Return a disc of nearly a whole turn with a flat at its side, which no single bulge draws well."""
    return Plate(
        name="disc",
        material="S235",
        thickness_mm=3,
        outline=(
            Corner(at_mm=(40, -5), arc_via_mm=(-40.0, 0.0)),
            Corner(at_mm=(40, 5)),
        ),
        openings=(Hole(name="a", centre_mm=(0, 0), diameter_mm=6.6),),
    )


@pytest.mark.parametrize(("ending", "older"), FORMS)
@pytest.mark.parametrize("plate", [*PLATES, example_plate(), big_arc()])
def test_read_back_it_is_the_same_plate(plate: Plate, ending: str, older: bool) -> None:
    read = outline_in(cut_content(plate, ending, older=older), f"x{ending}")
    assert read.taken_as == "mm"
    assert read.units == (None if older else "mm")
    again = plate_of(read, "mm", plate.thickness_mm, plate.material, "again")
    assert same(plate, again)
    assert sorted(o.kind for o in again.openings) == sorted(o.kind for o in plate.openings)
    assert all("left out" in w.casefold() for w in read.words)  # folds, crosses and words, and nothing mended


def test_a_change_of_a_twentieth_would_be_seen() -> None:
    plate = big_arc()
    assert not same(plate, plate.with_opening(Hole(name="a", centre_mm=(0, 0.05), diameter_mm=6.6)))


@pytest.mark.parametrize("older", [False, True])
def test_dxf_has_three_kinds_and_closed_loops_without_splines(older: bool, tmp_path: Path) -> None:
    path = tmp_path / "l.dxf"
    write_cut(example_plate(), path, older=older)
    document = ezdxf.readfile(path)
    assert document.dxfversion == ("AC1009" if older else "AC1024")
    assert not document.audit().errors
    by_layer: dict[str, list[str]] = {}
    for entity in document.modelspace():
        by_layer.setdefault(entity.dxf.layer, []).append(entity.dxftype())
        if entity.dxftype() == "LWPOLYLINE":
            assert entity.closed
        elif entity.dxftype() == "POLYLINE":
            assert entity.is_closed
    polyline = "POLYLINE" if older else "LWPOLYLINE"
    assert sorted(by_layer["CUT"]) == ["CIRCLE", *[polyline] * 3]
    assert by_layer["FOLD"] == ["LINE"]
    assert set(by_layer["MARK"]) == {"LINE", "TEXT"}
    assert set(by_layer) == {"CUT", "FOLD", "MARK"}


def test_svg_is_in_mm_with_three_groups_and_closed_loops() -> None:
    root = ElementTree.fromstring(cut_content(example_plate(), ".svg"))
    width, height = (root.get(k, "") for k in ("width", "height"))
    assert width.endswith("mm")
    assert height.endswith("mm")
    box = [float(v) for v in root.get("viewBox", "").split()]
    assert [float(width[:-2]), float(height[:-2])] == pytest.approx(box[2:])
    groups = {g.get("id"): g for g in root.findall(f"{_SVG}g")}
    assert list(groups) == ["CUT", "FOLD", "MARK"]
    for path in groups["CUT"].findall(f"{_SVG}path"):
        assert path.get("d", "").endswith("Z")
    assert len(groups["CUT"]) == 4
    assert "fold foot: 90 deg up, inside radius 5 mm" in [t.text for t in groups["MARK"].iter(f"{_SVG}text")]


@pytest.mark.parametrize("older", [False, True])
def test_no_two_kinds_of_line_look_alike(older: bool) -> None:
    # a machine that goes by colour alone must not cut along a fold
    text = cut_content(example_plate(), ".dxf", older=older).decode()
    document = ezdxf.read(io.StringIO(text))
    layers = [document.layers.get(kind) for kind in ("CUT", "FOLD", "MARK")]
    assert len({layer.dxf.color for layer in layers}) == 3
    assert layers[1].dxf.linetype in document.linetypes
    assert layers[1].dxf.linetype != layers[0].dxf.linetype
    for entity in document.modelspace():
        assert entity.dxf.color == 256  # by layer
    root = ElementTree.fromstring(cut_content(example_plate(), ".svg"))
    assert len({g.get("stroke") for g in root.findall(f"{_SVG}g")}) == 3


@pytest.mark.parametrize("ending", [".svg", ".dxf"])
def test_the_file_says_how_many_of_what_and_which_way_is_up(ending: str) -> None:
    plate = example_plate()
    content = cut_content(plate, ending).decode()
    assert f"{plate.name}, 1 off, {plate.thickness_mm:g} mm {plate.material}" in content
    assert "seen from the front; up is toward you; 1:1 in mm" in content
    flat = cut_content(plate.but(folds=()), ending).decode()
    assert "seen from the front; 1:1 in mm" in flat


def test_the_words_of_a_narrow_plate_lie_within_the_svg() -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (30, 0), (30, 90), (0, 90)))
    folds = (
        FoldLine(name="a long name of a fold", from_mm=(0, 45), to_mm=(30, 45), inside_radius_mm=3),
        FoldLine(name="aslant", from_mm=(0, 70), to_mm=(30, 85), inside_radius_mm=3),
    )
    plate = Plate(
        name="strap of the left side", material="S275", thickness_mm=3, outline=corners, folds=folds
    )
    root = ElementTree.fromstring(cut_content(plate, ".svg"))
    left, top, wide, high = (float(v) for v in root.get("viewBox", "").split())
    texts = list(root.iter(f"{_SVG}text"))
    assert len(texts) == 4
    for text in texts:
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        angle = math.radians(float(text.get("transform", "")[7:].split()[0]))
        long = 0.55 * 3.5 * len(text.text or "")  # a usual letter is half as wide as high, or a little more
        assert left <= x + long * math.cos(angle) <= left + wide
        assert top <= y + long * math.sin(angle) <= top + high


def test_fold_lines_run_from_edge_to_edge_of_the_material() -> None:
    plate = example_plate()
    (fold,) = cut_lines(plate).folds
    (piece,) = fold.pieces
    outline = Polygon(chopped(flat_pattern(plate).outline, 2000)).exterior
    assert all(outline.distance(shapely.Point(end)) < 1e-3 for end in (piece.start, piece.end))
    # the line as drawn began at x = 0; the arc on the left has radius 32.5 about (12.5, 110)
    assert min(piece.start[0], piece.end[0]) == pytest.approx(12.5 - math.sqrt(32.5**2 - 10**2), abs=1e-6)


def test_a_fold_that_crosses_an_opening_is_two_pieces() -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (100, 0), (100, 80), (0, 80)))
    plate = Plate(
        name="p",
        material=None,
        thickness_mm=2,
        outline=corners,
        openings=(Hole(name="h", centre_mm=(50, 40), diameter_mm=30),),
        folds=(FoldLine(name="f", from_mm=(0, 40), to_mm=(100, 40), inside_radius_mm=2),),
    )
    (fold,) = cut_lines(plate).folds
    assert sorted(round(x, 3) for p in fold.pieces for x in (p.start[0], p.end[0])) == [0, 35, 65, 100]


def test_crosses_stand_in_the_middle_and_clear_of_the_cut() -> None:
    plate = example_plate()
    lines = cut_lines(plate).crosses
    assert len(lines) == 4  # a hole and a slot; nobody drills a cut-out
    middles = {tuple(np.round(line.at(np.array([0.5]))[0], 6)) for line in lines}
    assert middles == {(20.0, 30.0), (45.0, 20.0)}
    edges = [Polygon(chopped(loop)).exterior for loop in cut_lines(plate).loops]
    assert all(e.distance(shapely.LineString([line.start, line.end])) > 0.5 for e in edges for line in lines)


def test_names_from_strangers_do_no_harm() -> None:
    plate = example_plate(name="</g>\n\x1b[31m & \u4e2d", material=None)
    root = ElementTree.fromstring(cut_content(plate, ".svg"))
    assert "material not stated" in "".join(root.itertext())
    for older in (False, True):
        read = outline_in(cut_content(plate, ".dxf", older=older), "x.dxf")
        assert same(plate, plate_of(read, "mm", 4, None, "again"))


def test_what_cannot_be_cut_is_a_sentence(tmp_path: Path) -> None:
    crossed = example_plate(openings=(Hole(name="h", centre_mm=(0, 30), diameter_mm=9),))
    with pytest.raises(CutFileError, match="cross or touch"):
        cut_content(crossed, ".svg")
    with pytest.raises(CutFileError, match=r"\.dxf"):
        cut_content(example_plate(), ".svg", older=True)
    with pytest.raises(CutFileError, match="ends in"):
        cut_content(example_plate(), ".pdf")
    with pytest.raises(CutFileError, match="cannot be written"):
        write_cut(example_plate(), tmp_path / "no" / "x.svg")
    assert not math.isnan(cut_lines(example_plate()).box_mm[0])


def test_a_file_says_where_no_machine_looks_that_it_is_no_verdict() -> None:
    plate = example_plate()
    root = ElementTree.fromstring(cut_content(plate, ".svg"))
    told = root.find(f"{_SVG}desc")
    assert told is not None
    assert told.text == NOT_JUDGED
    document = ezdxf.read(io.StringIO(cut_content(plate, ".dxf").decode()))
    assert document.header.custom_vars.get("Holdsquare") == NOT_JUDGED
    drawn = {entity.dxf.text for entity in document.modelspace().query("TEXT")}
    assert NOT_JUDGED not in drawn


def test_no_name_on_a_plate_begins_a_sign_of_dxf() -> None:
    """Two signs of per cent begin one: %%c is a diameter, %%u underlines (DXF reference, from memory)."""
    plate = example_plate()
    plate = plate.but(name="5%%c off %%%")
    document = ezdxf.read(io.StringIO(cut_content(plate, ".dxf").decode()))
    drawn = [entity.dxf.text for entity in document.modelspace().query("TEXT")]
    assert any("5% %c off" in words for words in drawn), drawn
    assert not any("%%" in words for words in drawn)


def test_the_command_writes_a_file_for_each_plate(cli: Runner) -> None:
    file = SAMPLES / "two_piece_bolted.bracket.json"
    outcome = cli.run("cut", file, "-o", cli.folder / "out.dxf")
    assert outcome.code == 0
    assert "not judged here" in outcome.out
    assert sorted(p.name for p in cli.folder.iterdir()) == ["out-bar_plate.dxf", "out-casing_plate.dxf"]
    assert cli.run("cut", file, "--plate", "bar plate", "-o", cli.folder / "one.svg").code == 0
    assert (cli.folder / "one.svg").read_bytes().startswith(b"<?xml")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("nothing.bracket.json", "-o", "x.svg"), "There is no file nothing.bracket.json"),
        (("here.bracket.json", "-o", "x.pdf"), "ends in .svg or .dxf"),
        (("here.bracket.json", "-o", "away/x.svg"), "a folder that is there"),
        (("here.bracket.json", "-o", "x.svg", "--plate", "fron"), "did you mean front?"),
        (("here.bracket.json", "-o", "x.svg", "--older"), "Only a DXF file comes in a form for older"),
        (("here.bracket.json",), "cut needs a bracket file and a file to write"),
    ],
)
def test_wrong_usage_is_64_with_a_sentence(
    cli: Runner, options: tuple[str, ...], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    cli.bracket_file("here")
    monkeypatch.chdir(cli.folder)
    outcome = cli.run("cut", *options)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())
