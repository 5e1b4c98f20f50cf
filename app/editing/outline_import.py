"""A plate's outline and openings from a DXF or SVG file of somebody else's making.

Closed loops only: the largest is the outline, loops within it are openings. Everything else is told in words.
Nothing in the file is executed and nothing it names is fetched.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import numpy as np
import shapely
from pydantic import ValidationError
from shapely.geometry import Polygon

from app.editing.outline_edges import MM_PER, MOST_EDGES, Drawn, TooManyEdgesError, Unit, merged
from app.editing.outline_joining import Joined, OpenChain, joined
from app.editing.outline_openings import corners_of, opening_of
from app.editing.refused import EditRefused
from geometry.file_text import MOST_BYTES, read_bytes
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.flat_pattern import chopped
from geometry.flat_segments import Arc, Edge, Flat, Line, Loop, loop_area_mm2
from geometry.plate import Plate

WITHIN_MM: Final = 0.01
"""How far an edge may lie off the curve it stands for."""
JOIN_MM: Final = 0.05
"""Ends nearer than this are one place."""
MOST_OPENINGS: Final = 2_000
_LEAST_AREA_MM2: Final = 0.01
_LIKELY_MM: Final = (20.0, 1500.0)
_MOST_TOLD: Final = 5
_AT: Final = re.compile(r"\[(\S+) (\S+)\]")


@dataclass(frozen=True)
class ImportedLoops:
    """The closed loops of a drawing, in its own unit."""

    loops: tuple[Loop, ...]
    """The outline first, then the openings; arcs stay arcs."""
    units: Unit | None
    """The unit the file states; None if it states none, and then people must be asked."""
    taken_as: Unit
    """The unit it was read in: the one stated or asked for, else a guess from the size."""
    words: tuple[str, ...]
    """What was left out or mended on the way, a sentence each."""
    name: str
    content: bytes = field(repr=False)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the outline, in the drawing's unit."""
        low_x, low_y, high_x, high_y = Polygon(chopped(self.loops[0])).bounds
        return (high_x - low_x, high_y - low_y)

    def size_mm(self, unit: Unit) -> tuple[float, float]:
        """Return width and height of the outline, if it is drawn in that unit."""
        width, height = self.size
        return (width * MM_PER[unit], height * MM_PER[unit])


def read_outline(path: Path | str, unit: Unit | None = None) -> ImportedLoops:
    """Return the closed loops of a DXF or SVG file; a unit given overrides what the file says.

    Raises EditRefused, in one sentence, for a file that gives no outline.
    """
    path = Path(path)
    content = read_bytes(path)
    if isinstance(content, Finding):
        raise EditRefused(_unreadable(content))
    return outline_in(content, path.name, unit)


def outline_in(content: bytes, name: str, unit: Unit | None = None) -> ImportedLoops:
    """Return the closed loops of a drawing given as bytes, as `read_outline` does."""
    if not content.strip():
        raise EditRefused(f"{name} is empty: export the drawing again.")
    try:
        # first as if in mm; only a file that states no unit, or another one, is read a second time
        drawn = _drawn(content, name, WITHIN_MM)
        taken = unit or drawn.unit or _guess(drawn)
        if MM_PER[taken] != 1.0:
            drawn = _drawn(content, name, WITHIN_MM / MM_PER[taken])
    except TooManyEdgesError:
        raise EditRefused(
            f"{name} has more than {MOST_EDGES} edges: export only the one plate, without text and hatching."
        ) from None
    if not drawn.chains:
        raise EditRefused(_nothing_drawn(drawn, name))
    per_mm = 1.0 / MM_PER[taken]
    found = joined(drawn.chains, JOIN_MM * per_mm)
    loops = tuple(merged(loop, WITHIN_MM * per_mm) for loop in found.loops)
    loops, words = _sorted(loops, found, name, taken)
    return ImportedLoops(loops, drawn.unit, taken, (*drawn.words, *words), name, content)


def plate_of(loops: ImportedLoops, unit: Unit, thickness_mm: float, material: str | None, name: str) -> Plate:
    """Return a plate of the loops, its lower left at the origin, if the drawing is in that unit.

    Raises EditRefused if they make no plate.
    """
    if unit != loops.taken_as:
        loops = outline_in(loops.content, loops.name, unit)
    scale = MM_PER[unit]
    corner = _lower_left(loops.loops[0])
    placed = [tuple(_placed(edge, scale, corner) for edge in loop) for loop in loops.loops]
    counts: dict[str, int] = {}
    try:
        return Plate(
            name=name,
            material=material,
            thickness_mm=thickness_mm,
            outline=corners_of(placed[0]),
            openings=tuple(opening_of(loop, counts) for loop in placed[1:]),
        )
    except ValidationError as error:
        raise EditRefused(
            f"{loops.name} makes no plate ({error.errors()[0]['msg']}): check thickness, name and drawing."
        ) from None


def _unreadable(finding: Finding) -> str:
    """Return the finding in words; those about size and folders speak of bracket files."""
    if finding.code == "file-too-big":
        return (
            f"{finding.where} is over {MOST_BYTES / 1e6:g} MB: export only the one plate, without pictures."
        )
    if finding.code == "file-is-folder":
        return f"{finding.where} is a folder: choose a DXF or SVG file."
    return sentence(finding)


def _drawn(content: bytes, name: str, within: float) -> Drawn:
    if name.casefold().endswith((".svg", ".svgz")) or content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        from app.editing.outline_svg import drawn_in_svg

        return drawn_in_svg(content, name, within, WITHIN_MM)
    from app.editing.outline_dxf import drawn_in_dxf

    return drawn_in_dxf(content, name, within)


def _nothing_drawn(drawn: Drawn, name: str) -> str:
    told = " ".join(drawn.words)
    return f"{name} draws no lines, arcs or curves. {told or 'Export the outline as lines and arcs.'}"


def _guess(drawn: Drawn) -> Unit:
    """Return the first likely unit that gives the drawing a bracket's size."""
    places = np.array([place for chain in drawn.chains for place in chopped(chain.edges)])
    size = float((places.max(axis=0) - places.min(axis=0)).max()) if len(places) else 0.0
    low, high = _LIKELY_MM
    return next((u for u in drawn.likely if low <= size * MM_PER[u] <= high), drawn.likely[0])


def _sorted(
    loops: tuple[Loop, ...], found: Joined, name: str, unit: Unit
) -> tuple[tuple[Loop, ...], tuple[str, ...]]:
    """Return the outline and its openings, and words about all that is neither."""
    least = _LEAST_AREA_MM2 / MM_PER[unit] ** 2
    by_area = sorted((loop for loop in loops if _area(loop) >= least), key=_area, reverse=True)
    largest_open = max((o for o in found.open if o.nearly_closed), key=lambda o: o.enclosed, default=None)
    if not by_area or (largest_open is not None and largest_open.enclosed > _area(by_area[0])):
        raise EditRefused(_not_closed(found, largest_open, name, unit))
    bodies = [Polygon(chopped(loop)) for loop in by_area]
    if len(bodies) > MOST_OPENINGS:
        raise EditRefused(
            f"{name} has more than {MOST_OPENINGS} closed lines: export only the one plate, without hatching."
        )
    if not bodies[0].is_valid:
        place = _AT.search(shapely.is_valid_reason(bodies[0]))
        where = f" near ({_figure(float(place[1]))}, {_figure(float(place[2]))})" if place else ""
        raise EditRefused(
            f"In {name} the outline crosses or touches itself{where}, in {unit}: mend the drawing."
        )
    openings, nested, outside = _openings(bodies)
    words = [
        *_told(len(nested), "closed line lies within an opening and would fall out with it", "left out"),
        *_told(len(outside), "closed line lies outside the outline", "left out; import it as another plate"),
        *_told(found.doubled, "line is drawn twice", "one of each was taken"),
        *_told(len(loops) - len(by_area), "closed line encloses next to nothing", "left out"),
        *_open_words(found, unit),
    ]
    return (by_area[0], *(by_area[i] for i in openings)), tuple(words)


def _openings(bodies: list[Polygon]) -> tuple[list[int], list[int], list[int]]:
    """Return which loops after the first are openings, lie within an opening, and lie outside.

    A loop that crosses the outline or an opening is kept: that it does is found and told with the plate.
    """
    openings: list[int] = []
    nested: list[int] = []
    outside: list[int] = []
    boxes = np.array([body.bounds for body in bodies])
    for i in range(1, len(bodies)):
        low_x, low_y, high_x, high_y = boxes[openings].T
        x0, y0, x1, y1 = boxes[i]
        round_it = (low_x <= x0) & (low_y <= y0) & (high_x >= x1) & (high_y >= y1)
        if any(bodies[i].covered_by(bodies[openings[k]]) for k in np.flatnonzero(round_it).tolist()):
            nested.append(i)
        elif bodies[0].intersects(bodies[i]) and not bodies[0].touches(bodies[i]):
            openings.append(i)
        else:
            outside.append(i)
    return openings, nested, outside


def _told(count: int, what: str, then: str) -> list[str]:
    if count == 0:
        return []
    verbs = {" lies ": " lie ", " is ": " are ", " encloses ": " enclose ", "line ": "lines "}
    if count > 1:
        for one, many in verbs.items():
            what = what.replace(one, many, 1)
    return [f"{count} {what}: {then}."]


def _open_words(found: Joined, unit: Unit) -> list[str]:
    """Return where lines do not close or branch, the widest enclosed area first."""
    ordered = sorted(found.open, key=lambda o: o.enclosed, reverse=True)
    words = [_gap_words(one, unit) + "; left out." for one in ordered[:_MOST_TOLD] if one.nearly_closed]
    rest = len(found.open) - len(words)
    words += _told(rest, "open line is no part of a closed loop", "left out")
    return words + [_branch_words(place, count) for place, count in found.branches[:_MOST_TOLD]]


def _not_closed(found: Joined, largest: OpenChain | None, name: str, unit: Unit) -> str:
    if found.branches:
        return f"In {name} the outline cannot be followed. {_branch_words(*found.branches[0])}"
    if largest is not None:
        return f"In {name} the outline does not close: {_gap_words(largest, unit)}. Close it there."
    return (
        f"{name} has no closed line, only {len(found.open)} open ones: draw the outline closed, ends on ends."
        if len(found.open) != 1
        else f"{name} has no closed line, only an open one: draw the outline closed, ends on ends."
    )


def _gap_words(one: OpenChain, unit: Unit) -> str:
    gap = f"{one.gap * MM_PER[unit]:.2f} mm wide" if one.gap else "of no width"
    return f"a line has a gap {gap} at ({_figure(one.at[0])}, {_figure(one.at[1])})"


def _branch_words(place: Flat, count: int) -> str:
    where = f"({_figure(place[0])}, {_figure(place[1])})"
    return f"{count} lines meet at {where}, where a loop has two: take the extra ones out."


def _figure(value: float) -> str:
    return f"{round(value, 2) + 0.0:g}"


def _area(loop: Loop) -> float:
    return abs(loop_area_mm2(loop))


def _placed(edge: Edge, scale: float, lower_left: Flat) -> Edge:
    def move(place: Flat) -> Flat:
        return (
            round((place[0] - lower_left[0]) * scale, 6) + 0.0,
            round((place[1] - lower_left[1]) * scale, 6) + 0.0,
        )

    if isinstance(edge, Line):
        return Line(move(edge.start), move(edge.end))
    return Arc(move(edge.centre), edge.radius_mm * scale, edge.from_rad, edge.turn_rad)


def _lower_left(loop: Loop) -> Flat:
    """Return the least x and y of a loop, exact on its arcs too."""
    xs, ys = zip(*[place for edge in loop for place in _extremes(edge)], strict=True)
    return (min(xs), min(ys))


def _extremes(edge: Edge) -> list[Flat]:
    places = [edge.start, edge.end]
    if isinstance(edge, Arc):
        (cx, cy), radius = edge.centre, edge.radius_mm
        for angle, place in ((math.pi, (cx - radius, cy)), (1.5 * math.pi, (cx, cy - radius))):
            ahead = (angle - edge.from_rad) * math.copysign(1.0, edge.turn_rad) % (2.0 * math.pi)
            if ahead <= abs(edge.turn_rad):
                places.append(place)
    return places
