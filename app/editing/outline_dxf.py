"""Closed shapes from DXF drawings; the one file that knows ezdxf.

Read are lines, arcs, circles, polylines, ellipses and splines of the model space, blocks resolved. Text,
dimensions, hatching, solids and layers that are switched off are left out and told.
"""

from __future__ import annotations

import io
import itertools
import logging
import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

import ezdxf.math
from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities.arc import Arc as DxfArc
from ezdxf.entities.circle import Circle
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.ellipse import Ellipse
from ezdxf.entities.insert import Insert
from ezdxf.entities.line import Line as DxfLine
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.spline import Spline

from app.editing.outline_curves import arc_by_turn, curve_edges
from app.editing.outline_edges import Drawn, Gathering, TooManyEdgesError, Unit
from app.editing.refused import EditRefused
from app.wording.figures import plain
from geometry.flat_segments import FULL_TURN, Arc, Edge, Flat, Line

_UNITS: Final[dict[int, Unit]] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""$INSUNITS; what is not here has to be asked."""
_DEEPEST: Final = 12
"""Blocks within each other."""
_LEVEL: Final = 1e-6
"""Share of its size a shape may lean out of the drawing's plane."""
_MOST_RECORDS: Final = 60_000
"""Entities, vertices and rows of tables: a vertex is one, and layers and styles are a few hundred."""
_MOST_POINTS: Final = 3_000
"""Of one spline."""
_RECORD: Final = re.compile(rb"\n[ \t]*0[ \t]*\r?\n")
_ELLIPSE_PIECES: Final = 32
_SPAN_PIECES: Final = 12
"""Cubic curves for one span of a spline that is not itself cubic."""
_Place = ezdxf.math.Vec3


class _TiltedError(ValueError):
    """A shape that does not lie in the drawing's plane."""


def drawn_in_dxf(content: bytes, name: str, within: float) -> Drawn:
    """Return the chains of a DXF file's bytes, curves chopped within so many of its units.

    Raises EditRefused if it is no DXF drawing, and TooManyEdgesError.
    """
    document = _document(content, name)
    reading = _Reading(document, within)
    reading.read(document.modelspace(), "", 0)
    imperial = document.header.get("$MEASUREMENT", 1) == 0 and b"$MEASUREMENT" in content
    return Drawn(
        tuple(reading.gathering.chains),
        # the library fills in a unit where the file has none
        _UNITS.get(document.header.get("$INSUNITS", 0)) if b"$INSUNITS" in content else None,
        ("in", "mm", "cm", "m", "ft") if imperial else ("mm", "in", "cm", "m", "ft"),
        reading.words(),
    )


def _document(content: bytes, name: str) -> Drawing:
    if b"\x00" in content:
        raise EditRefused(
            f"{name} is a binary file, not a drawing as text: export the drawing as DXF text or as SVG."
        )
    if b"SECTION" not in content:
        raise EditRefused(f"{name} is not a DXF drawing: choose a DXF or SVG file.")
    if len(_RECORD.findall(content)) > _MOST_RECORDS:
        raise TooManyEdgesError
    if not content.rstrip().endswith(b"EOF"):
        raise EditRefused(f"{name} breaks off before its end: save or copy it again.")
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # what matters of it is told in our own words
    try:
        return recover.read(io.BytesIO(content))[0]
    except Exception as error:  # the library raises many kinds for broken files
        raise EditRefused(
            f"{name} cannot be read as a DXF drawing ({type(error).__name__}): save it again, as DXF text."
        ) from error


class _Reading:
    """One walk through the entities of a drawing."""

    def __init__(self, document: Drawing, within: float) -> None:
        self.gathering = Gathering()
        self._within = within
        self._left_out: Counter[str] = Counter()
        self._hidden = {
            layer.dxf.name.casefold() for layer in document.layers if layer.is_off() or layer.is_frozen()
        } | {"defpoints"}

    def read(self, entities: Iterable[Any], block_layer: str, depth: int) -> None:
        """Take up the entities; those on layer 0 of a block stand on the layer the block was put on."""
        for entity in entities:
            try:
                self._one(entity, block_layer, depth)
            except TooManyEdgesError:
                raise
            except _TiltedError:
                self._left_out["not lying in the drawing's plane"] += 1
            except Exception:  # noqa: BLE001 - the library raises many kinds for broken entities
                self._left_out[f"broken {entity.dxftype()} entity"] += 1

    def words(self) -> tuple[str, ...]:
        """Return what was left out, a sentence each."""
        counts = self._left_out + Counter({"with impossible coordinates": self.gathering.impossible})
        # What an entity is called comes from a stranger's file.
        return tuple(plain(f"Left out: {count} {what}.") for what, count in sorted(counts.items()))

    def _block(self, insert: Insert, layer: str, depth: int) -> None:
        if depth >= _DEEPEST:
            self._left_out["block within too many others"] += 1
            return
        for one in insert.multi_insert() if insert.mcount > 1 else (insert,):
            self.gathering.count(1)  # blocks within blocks can stand for any number
            self.read(one.virtual_entities(skipped_entity_callback=self._skipped), layer, depth + 1)

    def _skipped(self, entity: DXFGraphic, _reason: str) -> None:
        self._left_out[_in_words(entity)] += 1

    def _one(self, entity: DXFGraphic, block_layer: str, depth: int) -> None:
        own = str(entity.dxf.get("layer", "0"))
        layer = block_layer if own == "0" and block_layer else own
        if layer.casefold() in self._hidden or entity.dxf.get("invisible", 0):
            self._left_out["on a layer that is off"] += 1
        elif isinstance(entity, Insert):
            self._block(entity, layer, depth)
        elif (edges := _edges(entity, self._within)) is not None:
            self.gathering.add(edges, layer)
        else:
            self._left_out[_in_words(entity)] += 1


def _in_words(entity: DXFGraphic) -> str:
    kind = entity.dxftype()
    known = {
        "TEXT": "text", "MTEXT": "text", "ATTRIB": "text", "ATTDEF": "text", "DIMENSION": "dimension",
        "HATCH": "hatching", "LEADER": "leader", "MULTILEADER": "leader", "POINT": "point",
        "IMAGE": "picture", "3DSOLID": "solid body", "MESH": "solid body", "3DFACE": "surface",
    }  # fmt: skip
    return known.get(kind, f"{kind} entity")


def _edges(entity: DXFGraphic, within: float) -> Iterable[Edge] | None:
    """Return the edges of an entity; None for a kind that draws no edge."""
    if isinstance(entity, DxfLine):
        start, end = _flats([entity.dxf.start, entity.dxf.end])
        return [Line(start, end)]
    if isinstance(entity, DxfArc):
        return [_arc(entity)]
    if isinstance(entity, Circle):
        return [_circle(entity)]
    if isinstance(entity, LWPolyline):
        return _bulged(entity, [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")], entity.closed)
    if isinstance(entity, Polyline):
        return _polyline(entity)
    if isinstance(entity, Ellipse):
        ellipse = entity.construction_tool()
        pieces = ezdxf.math.cubic_bezier_from_ellipse(ellipse, _ELLIPSE_PIECES)
        return _curves((piece.control_points for piece in pieces), within)
    if isinstance(entity, Spline):
        return _curves(_spline(entity), within)
    return None


def _flats(places: Iterable[Any]) -> list[Flat]:
    """Return places of the world as flat ones; _TiltedError if they do not lie at one height."""
    points = [_Place(place) for place in places]
    heights = [point.z for point in points]
    size = max(
        max(p.x for p in points) - min(p.x for p in points),
        max(p.y for p in points) - min(p.y for p in points),
    )
    if max(heights) - min(heights) > _LEVEL * max(size, 1e-9):
        raise _TiltedError
    return [(point.x, point.y) for point in points]


def _side(entity: DXFGraphic) -> float:
    """Return 1 for a shape drawn seen from the front, -1 from the back; _TiltedError for any other."""
    up = _Place(entity.dxf.get("extrusion", (0, 0, 1))).normalize()
    if abs(up.z) < 1.0 - _LEVEL:
        raise _TiltedError
    return math.copysign(1.0, up.z)


def _arc(entity: DxfArc) -> Edge:
    side = _side(entity)
    sweep = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0) or FULL_TURN
    ((cx, cy),) = _flats([entity.ocs().to_wcs(entity.dxf.center)])
    from_rad = math.radians(entity.dxf.start_angle)
    # seen from the back x runs the other way, and so does the turn
    return Arc((cx, cy), abs(entity.dxf.radius), from_rad if side > 0 else math.pi - from_rad, side * sweep)


def _circle(entity: Circle) -> Edge:
    _side(entity)
    (centre,) = _flats([entity.ocs().to_wcs(entity.dxf.center)])
    return Arc(centre, abs(entity.dxf.radius), 0.0, FULL_TURN)


def _polyline(entity: Polyline) -> Sequence[Edge] | None:
    if entity.is_2d_polyline:
        # vertices of a spline's frame only steer it
        vertices = [v for v in entity.vertices if not v.dxf.flags & 16]
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in vertices]
        return _bulged(entity, points, entity.is_closed)
    if entity.is_3d_polyline:
        places = _flats(v.dxf.location for v in entity.vertices if not v.dxf.flags & 16)
        following = places[1:] + (places[:1] if entity.is_closed else [])
        return [Line(a, b) for a, b in zip(places, following, strict=False)]
    return None


def _bulged(
    entity: LWPolyline | Polyline, points: list[tuple[float, float, float]], closed: bool
) -> list[Edge]:
    side = _side(entity)
    ocs = entity.ocs()
    places = _flats(ocs.to_wcs(_Place(x, y)) for x, y, _ in points)
    following = places[1:] + (places[:1] if closed else [])
    return [
        arc_by_turn(a, b, side * 4.0 * math.atan(bulge))
        for a, b, (_, _, bulge) in zip(places, following, points, strict=False)
        if a != b
    ]


def _spline(entity: Spline) -> Iterator[Sequence[Any]]:
    """Yield the control points of the cubic curves a spline consists of."""
    if entity.control_point_count() + entity.fit_point_count() > _MOST_POINTS:
        raise TooManyEdgesError
    spline = entity.construction_tool()
    if spline.degree <= 3 and not spline.is_rational and spline.is_clamped:
        for points in spline.bezier_decomposition():
            yield _raised(list(points))
        return
    knots = sorted(set(spline.knots()[spline.order - 1 : spline.count + 1]))
    for low, high in itertools.pairwise(knots):
        step = (high - low) / _SPAN_PIECES
        nudge = 1e-9 * step  # within the span: at a knot the spline may have a kink
        for i in range(_SPAN_PIECES):
            first, last = low + i * step + nudge, low + (i + 1) * step - nudge
            (a, out), (b, into) = spline.derivatives([first, last], n=1)
            yield [a, a + out * (step / 3.0), b - into * (step / 3.0), b]


def _raised(points: list[Any]) -> list[Any]:
    """Return the same curve with four control points."""
    while len(points) < 4:
        n = len(points)
        points = [
            points[0],
            *(points[i - 1] * (i / n) + points[i] * (1.0 - i / n) for i in range(1, n)),
            points[-1],
        ]
    return points


def _curves(pieces: Iterable[Sequence[Any]], within: float) -> Iterator[Edge]:
    for points in pieces:
        a, b, c, d = _flats(points)
        yield from curve_edges((a, b, c, d), within)
