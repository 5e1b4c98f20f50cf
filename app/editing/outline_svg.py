"""Closed shapes from SVG drawings; the one file that knows svgelements.

The file is parsed here first, with nothing expanded and nothing fetched, and written anew without what could
do harm or draws no edge; only that reaches the library, which knows transforms, `use`, styles and units.
"""

from __future__ import annotations

import io
import math
import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element
from xml.parsers import expat

import svgelements

from app.editing.outline_curves import curve_edges
from app.editing.outline_edges import MOST_EDGES, Drawn, Gathering, TooManyEdgesError, Unit
from app.editing.refused import EditRefused
from geometry.flat_segments import FULL_TURN, Arc, Edge, Flat, Line

_SVG: Final = "{http://www.w3.org/2000/svg}"
_LINK: Final = ("href", "{http://www.w3.org/1999/xlink}href")
_DEEPEST: Final = 60
_MOST_ELEMENTS: Final = 8_000
"""Of a drawing; the library takes a quarter of a millisecond for each."""
_NOT_DRAWN: Final = (
    "mask", "marker", "pattern", "clipPath", "linearGradient", "radialGradient", "filter", "image", "script",
    "foreignObject", "metadata", "text", "font", "animate", "animateTransform", "set",
)  # fmt: skip
_TOLD: Final = {"text": "text", "image": "picture"}
_LENGTH: Final = re.compile(r"\s*[+]?((?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(mm|cm|in|pt|pc)\s*")
_UNREAD: Final = ("clip-path", "mask", "filter", "fill", "stroke", "color", "stroke-width", "font-family")
_LONG: Final = ("d", "points", "transform", "style", "class")
"""Attributes that may be long; nothing else that is says where an edge runs."""
_NUMBER: Final = re.compile(r"[0-9]+(?:\.[0-9]*)?|\.[0-9]+")
_LONG_NUMBER: Final = re.compile(r"[0-9]{60}")
_MM: Final = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72.0, "pc": 25.4 / 6.0}
_ELLIPSE_PIECES: Final = 32


class _ForbiddenError(ValueError):
    """The file declares entities."""


def drawn_in_svg(content: bytes, name: str, within: float, within_mm: float) -> Drawn:
    """Return the chains of an SVG file's bytes, y turned up, curves chopped within so many of its units.

    A file whose width or height is given in mm, cm, inches, points or picas is drawn in mm, and chopped
    within `within_mm`. Raises EditRefused if it is no SVG drawing, and TooManyEdgesError.
    """
    shapes, told, mm_per_unit = _shapes_in(content, name)
    left_out = Counter(dict(told))
    scale = mm_per_unit or 1.0
    chop = within_mm if mm_per_unit else within
    gathering = Gathering()
    for shape in shapes:
        for part in shape.as_subpaths():
            try:
                gathering.add(_edges(part, scale, chop), "")
            except (ValueError, ArithmeticError, TypeError, AttributeError) as error:
                if isinstance(error, TooManyEdgesError):
                    raise
                gathering.impossible += 1
    left_out += Counter({"with impossible coordinates": gathering.impossible})
    words = tuple(f"Left out: {count} {what}." for what, count in sorted(left_out.items()))
    unit: Unit | None = "mm" if mm_per_unit else None
    return Drawn(tuple(gathering.chains), unit, ("px", "mm", "in", "pt", "cm", "m", "ft"), words)


@lru_cache(maxsize=1)
def _shapes_in(
    content: bytes, name: str
) -> tuple[tuple[svgelements.Path, ...], tuple[tuple[str, int], ...], float | None]:
    """Return the shapes, how many of what was left out, and the mm of a unit.

    Kept, since a drawing is read again as soon as its unit is known; nobody changes the shapes.
    """
    root = _parsed(content, name)
    if _count_drawn(root, name) > MOST_EDGES:
        raise TooManyEdgesError
    if sum(1 for _ in root.iter()) > _MOST_ELEMENTS:
        raise EditRefused(
            f"{name} has more than {_MOST_ELEMENTS} shapes: export only the one plate, lines joined to paths."
        )
    left_out = _stripped(root)
    mm_per_unit = _set_size(root)
    try:
        drawing = svgelements.SVG.parse(io.BytesIO(ElementTree.tostring(root)), ppi=96.0)
        # abs carries out the transform, which the library puts off for some shapes
        shapes = tuple(abs(svgelements.Path(shape)) for shape in _shapes(drawing))
    except Exception as error:  # the library raises many kinds for broken files
        raise EditRefused(
            f"{name} cannot be read as an SVG drawing ({type(error).__name__}): save it again as plain SVG."
        ) from error
    return shapes, tuple(left_out.items()), mm_per_unit


def _parsed(content: bytes, name: str) -> Element:
    if content.startswith(b"\x1f\x8b"):
        raise EditRefused(f"{name} is a compressed SVG drawing: save it as plain, uncompressed SVG.")
    try:
        _look_through(content)
        root = ElementTree.fromstring(content)
    except _ForbiddenError as error:
        raise EditRefused(f"{name} {error}: save it again as plain SVG.") from None
    except (ElementTree.ParseError, expat.ExpatError, ValueError, LookupError) as error:
        line = getattr(error, "lineno", None) or getattr(error, "position", (0, 0))[0]
        raise EditRefused(
            f"{name} is broken, or breaks off, at line {line}: save or copy it again as plain SVG."
        ) from None
    if root.tag not in (f"{_SVG}svg", "svg"):
        raise EditRefused(f"{name} is not an SVG drawing: choose a DXF or SVG file.")
    return root


def _look_through(content: bytes) -> None:
    """Raise _ForbiddenError for what could expand or reach elsewhere, before anything is built."""
    depth = 0

    def entity(*_declared: object) -> None:
        raise _ForbiddenError("declares entities, which are not read from other people's files")

    def outside(*_named: object) -> int:
        raise _ForbiddenError("refers to another file, which is not fetched")

    def start(_name: str, _attributes: object) -> None:
        nonlocal depth
        depth += 1
        if depth > _DEEPEST:
            raise _ForbiddenError(f"has more than {_DEEPEST} groups within each other")

    def end(_name: str) -> None:
        nonlocal depth
        depth -= 1

    parser = expat.ParserCreate()
    parser.EntityDeclHandler = entity
    parser.ExternalEntityRefHandler = outside
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.Parse(content, True)


def _count_drawn(root: Element, name: str) -> int:
    """Return about how many edges are drawn once every `use` is carried out."""
    by_id = {element.get("id"): element for element in root.iter() if element.get("id")}
    counted: dict[Element, int] = {}
    under_way: set[Element] = set()

    def count(element: Element) -> int:
        if element in counted:
            return counted[element]
        if element in under_way:
            raise EditRefused(f"{name} has an element that uses itself: save it again as plain SVG.")
        under_way.add(element)
        if len(under_way) > 3 * _DEEPEST:
            raise EditRefused(f"{name} has too many elements that use each other: save it as plain SVG.")
        total = _edges_at_most(element, name) + sum(count(child) for child in element)
        target = by_id.get(_used(element))
        if target is not None:
            total += count(target)
        under_way.discard(element)
        counted[element] = total
        return total

    return count(root)


def _edges_at_most(element: Element, name: str) -> int:
    """Return how many edges an element may draw by itself; EditRefused for texts of absurd length."""
    drawn = " ".join(element.get(key, "") for key in ("d", "points"))
    style = (element.text or "") if _tag(element) == "style" else element.get("style", "")
    if _LONG_NUMBER.search(drawn) or len(element.get("transform", "")) > 2_000 or len(style) > 50_000:
        raise EditRefused(f"{name} has numbers, transforms or styles of absurd length: save it as plain SVG.")
    return 1 + len(_NUMBER.findall(drawn)) // 7


def _used(element: Element) -> str | None:
    if _tag(element) != "use":
        return None
    return next((element.get(key, "")[1:] for key in _LINK if element.get(key)), None)


def _tag(element: Element) -> str:
    return element.tag.removeprefix(_SVG) if isinstance(element.tag, str) else ""


def _stripped(root: Element) -> Counter[str]:
    """Take out of the tree what draws no edge, and return how many of what people would miss."""
    left_out: Counter[str] = Counter()
    for parent in list(root.iter()):
        for child in list(parent):
            tag = _tag(child)
            if tag in _NOT_DRAWN or tag.startswith("{") or not tag:
                parent.remove(child)
                if tag in _TOLD:
                    left_out[_TOLD[tag]] += 1
            elif tag == "symbol":  # drawn only where it is used
                _hide(parent, child)
        for key in [k for k, v in parent.attrib.items() if k in _UNREAD or (len(v) > 200 and k not in _LONG)]:
            del parent.attrib[key]
    return left_out


def _hide(parent: Element, symbol: Element) -> None:
    place = list(parent).index(symbol)
    prefix = symbol.tag.removesuffix("symbol")
    group = Element(f"{prefix}g", {k: v for k, v in symbol.attrib.items() if k != "viewBox"})
    group.extend(list(symbol))
    holder = Element(f"{prefix}defs")
    holder.append(group)
    parent[place] = holder


def _set_size(root: Element) -> float | None:
    """Give the drawing a size in bare numbers, and return how many mm one of them is; None if it is not said.

    The library's own way from mm to pixels and back is rounded.
    """
    lengths = [_LENGTH.fullmatch(root.get(key, "")) for key in ("width", "height")]
    box = root.get("viewBox", "").replace(",", " ").split()
    for key in ("width", "height"):
        root.attrib.pop(key, None)
    physical = any(lengths)
    if len(box) != 4:
        return 25.4 / 96.0 if physical else None
    for key, length, figure in zip(("width", "height"), lengths, box[2:], strict=True):
        if length is not None:
            root.set(key, repr(float(length[1]) * _MM[length[2]]))
        elif not physical:  # in the drawing's own figures: a number of pixels says nothing about them
            root.set(key, figure)
    return 1.0 if physical else None


def _shapes(drawing: svgelements.SVG) -> Iterator[svgelements.Shape]:
    for element in drawing.elements():
        if isinstance(element, svgelements.Shape) and not _hidden(element.values):
            yield element


def _hidden(values: dict[str, Any]) -> bool:
    return values.get("visibility") in ("hidden", "collapse")


def _edges(part: Any, scale: float, within: float) -> Iterator[Edge]:  # noqa: ANN401 - the library has no types
    for segment in part:
        if isinstance(segment, svgelements.Move) or segment.start is None or segment.end is None:
            continue
        start, end = _flat(segment.start, scale), _flat(segment.end, scale)
        if isinstance(segment, svgelements.Line | svgelements.Close):
            yield Line(start, end)
        elif isinstance(segment, svgelements.CubicBezier):
            first, second = _flat(segment.control1, scale), _flat(segment.control2, scale)
            yield from curve_edges((start, first, second, end), within)
        elif isinstance(segment, svgelements.QuadraticBezier):
            first, second = (_between(p, _flat(segment.control, scale), 2 / 3) for p in (start, end))
            yield from curve_edges((start, first, second, end), within)
        elif isinstance(segment, svgelements.Arc):
            yield from _arc(segment, scale, within)


def _arc(segment: Any, scale: float, within: float) -> Iterator[Edge]:  # noqa: ANN401 - the library has no types
    if abs(segment.rx - segment.ry) <= 1e-6 * abs(segment.rx):
        (x, y), centre = _flat(segment.start, scale), _flat(segment.center, scale)
        turn = max(-FULL_TURN, min(FULL_TURN, -float(segment.sweep)))
        radius = math.hypot(x - centre[0], y - centre[1])
        yield Arc(centre, radius, math.atan2(y - centre[1], x - centre[0]), turn)
        return
    pieces = max(2, math.ceil(_ELLIPSE_PIECES * abs(float(segment.sweep)) / FULL_TURN))
    for curve in segment.as_cubic_curves(pieces):
        a, b, c, d = (_flat(p, scale) for p in (curve.start, curve.control1, curve.control2, curve.end))
        yield from curve_edges((a, b, c, d), within)


def _flat(point: Any, scale: float) -> Flat:  # noqa: ANN401 - the library has no types
    return (float(point.x) * scale, -float(point.y) * scale)


def _between(first: Flat, second: Flat, share: float) -> Flat:
    return (first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1]))
