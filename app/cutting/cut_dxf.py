"""A cutter's file as DXF; the one file that writes with ezdxf.

Closed polylines with bulges and whole circles only, no splines. For older machines the same in R12, which
cannot say its unit, which is mm, nor carry a remark that no machine looks at.
"""

from __future__ import annotations

import io
import logging
import math
import re
from typing import Any, Final

import ezdxf.filemanagement
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment

from app.cutting.cut_lines import LINE_KINDS, NOT_JUDGED, WORDS_MM, CutLines, LineKind
from geometry.flat_segments import Arc, Line, Loop

MM: Final = 4
"""$INSUNITS."""
_DASHED: Final = "FOLDLINE"
_LAYERS: Final[dict[LineKind, tuple[int, str]]] = {
    "CUT": (7, "CONTINUOUS"), "FOLD": (5, _DASHED), "MARK": (3, "CONTINUOUS"),
}  # fmt: skip
"""Colour and line of each layer: some machines cut all that is of one colour, whatever layer it is on."""
_MOST_BULGE_RAD: Final = 1.5 * math.pi
"""An arc that turns further is written in two: its bulge would be ill defined."""


def cut_dxf(lines: CutLines, *, older: bool = False) -> bytes:
    """Return the bytes of a DXF file, 1:1 in mm; `older` writes R12."""
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # that R12 has no unit is told in our own words
    document = ezdxf.filemanagement.new("R12" if older else "R2010")
    if not older:
        document.header["$INSUNITS"] = MM
        document.header["$MEASUREMENT"] = 1
        document.header.custom_vars.append("Holdsquare", NOT_JUDGED)
    document.linetypes.add(_DASHED, pattern=[7.5, 6.0, -1.5], description="fold line")
    for kind in LINE_KINDS:
        colour, dashes = _LAYERS[kind]
        document.layers.add(kind, color=colour, linetype=dashes)
    space: Any = document.modelspace()
    for loop in lines.loops:
        _add_loop(space, loop, older=older)
    for fold in lines.folds:
        for piece in fold.pieces:
            space.add_line(piece.start, piece.end, dxfattribs={"layer": "FOLD"})
    for line in lines.crosses:
        space.add_line(line.start, line.end, dxfattribs={"layer": "MARK"})
    for w in lines.written:
        # two of them begin a sign of their own in a text of DXF, such as %%c
        words = re.sub("%(?=%)", "% ", w.words)
        text = space.add_text(words, height=WORDS_MM, rotation=w.angle_deg, dxfattribs={"layer": "MARK"})
        text.set_placement(w.at_mm, align=TextEntityAlignment.LEFT)
    return _bytes(document)


def _add_loop(space: Any, loop: Loop, *, older: bool) -> None:  # noqa: ANN401 - the library's layouts differ
    first, attributes = loop[0], {"layer": "CUT"}
    if isinstance(first, Arc) and first.is_circle:
        space.add_circle(first.centre, first.radius_mm, dxfattribs=attributes)
        return
    points = [point for edge in loop for point in _points(edge)]
    if older:
        space.add_polyline2d(points, format="xyb", close=True, dxfattribs=attributes)
    else:
        space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)


def _points(edge: Line | Arc) -> list[tuple[float, float, float]]:
    """Return the edge's start, and its middle if it has to be halved, each with the bulge that follows."""
    if isinstance(edge, Line):
        return [(*edge.start, 0.0)]
    halves = 2 if abs(edge.turn_rad) > _MOST_BULGE_RAD else 1
    bulge = math.tan(edge.turn_rad / halves / 4.0)
    starts = [
        Arc(
            edge.centre, edge.radius_mm, edge.from_rad + k * edge.turn_rad / halves, edge.turn_rad / halves
        ).start
        for k in range(halves)
    ]
    return [(*start, bulge) for start in starts]


def _bytes(document: Drawing) -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())
