"""The bracket drawn as a linkage: a bar for each plate and the casing, pins at bolts, the centre of turning.

Glossary
--------
bar             what moves as one, drawn from pin to pin
pin             a bolt whose spin nothing but friction stops
instant centre  the place of the casing that stays where it is while all else of it turns
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.mounted.camera import Camera
from app.mounted.overlay import Disc, Item, Path, Words
from app.mounted.shapes import CASING, FIXED, Body, Floats
from app.theme import Theme
from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.linkage import linkage_of
from solver.load_cases import casing_reference
from solver.results import FreeMotion

Moved = Callable[[Floats, Body], Floats]
"""(places (n, 3), body) to where the picture shows them."""
_NO_TURN: Final = 1e-9
"""A turn this small beside the shift over the bracket's size is no turn: the bars keep parallel."""
_BAR_PX: Final = 5.0
_PIN_PX: Final = 6.0
_REACH_PX: Final = 15.0
"""Of the cross at the centre, from its middle."""
_FAR_PX: Final = 4000.0


@dataclass(frozen=True, eq=False)
class Bar:
    """One bar by its pins, mm."""

    body: Body
    pins_mm: Floats
    """(n, 3)."""


@dataclass(frozen=True, eq=False)
class LinkageDrawing:
    """Bars, pins and the centre."""

    bars: tuple[Bar, ...]
    ground_mm: Floats
    """(n, 3) pins at what does not move: dash bar, anchors, and the shaft where bearings hold it."""
    centre_mm: Floats | None
    """(3,) instant centre of the casing's free motion; None where it moves without turning, or not at all."""
    moves: bool
    """Whether the casing has a free motion."""

    @property
    def words(self) -> str:
        """Return in a few words how the linkage moves."""
        if not self.moves:
            return "no free motion: the bars lock one another"
        if self.centre_mm is None:
            return "no centre: bars stay parallel and lean over (racking)"
        return "it turns about the centre"


def linkage_drawing(bracket: Bracket, motion: FreeMotion | None) -> LinkageDrawing:
    """Return the drawing of a bracket and of one of its free motions, None for one that is held."""
    places = place_bolts(bracket)
    linkage = linkage_of(bracket, places)
    pins: dict[Body, list[Floats]] = {}
    ground = []
    for joint in linkage.joints:
        place = joint.place
        pins.setdefault(("plate", place.plate), []).append(place.mating_mm)
        if place.partner == "boss":
            pins.setdefault(CASING, []).append(place.mating_mm)
        elif place.partner == "hole":
            other = next(p.plate for p in places if p.bolt == place.bolt and p.side == "nut")
            pins.setdefault(("plate", other), []).append(place.mating_mm)
        else:
            ground.append(place.mating_mm)
    if CASING in pins and len(linkage.column):
        # Bearings hold the shaft, and the casing turns on it: one more pin.
        shaft = np.array([0.0, 0.0, float(np.mean([at[2] for at in pins[CASING]]))])
        pins[CASING].append(shaft)
        ground.append(shaft)
    bars = tuple(Bar(body, _in_order(np.array(at))) for body, at in pins.items())
    near = np.mean(pins[CASING], axis=0) if CASING in pins else casing_reference(bracket)
    centre = None if motion is None else instant_centre(motion, near)
    return LinkageDrawing(
        bars, np.array(ground).reshape(-1, 3), centre, motion is not None and motion.moves_casing
    )


def instant_centre(motion: FreeMotion, near_mm: Floats) -> Floats | None:
    """Return the place (3,) on the axis of the casing's motion nearest to `near_mm`; None without a turn."""
    moved = np.asarray(motion.bodies.get("casing", np.zeros(6)), dtype=float)
    turn = moved[3:]
    here = moved[:3] + np.cross(turn, near_mm)
    size = float(turn @ turn)
    if np.sqrt(size) * 100.0 <= max(1e-3 * float(np.linalg.norm(here)), _NO_TURN):
        return None
    return np.asarray(near_mm + np.cross(turn, here) / size)


def linkage_items(
    drawing: LinkageDrawing, camera: Camera, theme: Theme, moved: Moved, size_px: float = 15.0
) -> list[Item]:
    """Return the drawing over a picture: rest positions thin, bars where the picture has moved them."""
    items: list[Item] = []
    for bar in drawing.bars:
        items.append(Path(_closed(camera.project(bar.pins_mm)[:, :2]), 1.2, theme.pencil))
    for bar in drawing.bars:
        seen = camera.project(moved(bar.pins_mm, bar.body))[:, :2]
        items.append(Path(_closed(seen), _BAR_PX + 3.0, theme.ground))
        items.append(Path(_closed(seen), _BAR_PX, theme.accent if bar.body == CASING else theme.ink))
        items += [Disc(float(x), float(y), _PIN_PX, _PIN_PX, 2.0, theme.ink, theme.ground) for x, y in seen]
    for x, y in camera.project(moved(drawing.ground_mm, FIXED))[:, :2]:
        items += _ground(float(x), float(y), theme)
    if drawing.centre_mm is not None and drawing.moves:
        x, y = (float(v) for v in camera.project(drawing.centre_mm)[0, :2])
        if abs(x) < _FAR_PX and abs(y) < _FAR_PX:
            items += _centre(x, y, theme, size_px)
    return items


def linkage_places(drawing: LinkageDrawing, camera: Camera, moved: Moved, size_px: float) -> Floats:
    """Return the places (n, 2) in the picture that pins, ground and the centre with its word are drawn at."""
    places = [camera.project(moved(bar.pins_mm, bar.body))[:, :2] for bar in drawing.bars]
    for x, y in camera.project(moved(drawing.ground_mm, FIXED))[:, :2]:
        places.append(np.array([[x + across, y - 18.0] for across in (-10.0, 0.0, 10.0)]))
    if drawing.centre_mm is not None and drawing.moves:
        x, y = (float(v) for v in camera.project(drawing.centre_mm)[0, :2])
        if abs(x) < _FAR_PX and abs(y) < _FAR_PX:
            word = x + _REACH_PX + np.linspace(0.0, 3.6 * size_px, 5)
            places.append(np.array([[x, y], *([at, y + size_px] for at in word)]))
    return np.concatenate([np.zeros((0, 2)), *places])


def couple_items(camera: Camera, bracket: Bracket, words: str, theme: Theme, size_px: float) -> list[Item]:
    """Return the couple round the shaft as an arc with an arrowhead, and its words."""
    if bracket.casing is None:
        return []
    low, high = bracket.casing.envelope.low_mm, bracket.casing.envelope.high_mm
    radius = 0.62 * max(high[0] - low[0], high[1] - low[1])
    station = bracket.casing.station_mm + low[2]
    turns = np.radians(np.linspace(205.0, 335.0, 40))
    arc = np.stack([radius * np.cos(turns), radius * np.sin(turns), np.full(40, station)], axis=1)
    seen = camera.project(arc)[:, :2]
    way = seen[-1] - seen[-4]
    length = float(np.hypot(*way))
    if length < 1e-6:
        return []
    way = way / length
    side = np.array([-way[1], way[0]])
    head = np.array([seen[-1] + 16.0 * way, seen[-1] + 7.0 * side, seen[-1] - 7.0 * side])
    lowest = seen[int(np.argmax(seen[:, 1]))]
    at_y = min(float(lowest[1]) + 0.9 * size_px, camera.size_px[1] - size_px)
    return [
        Path(seen, 4.0, theme.accent),
        Path(head, 1.0, theme.accent, theme.accent),
        Words(words, float(lowest[0]), at_y, size_px, theme.accent, ground=theme.ground),
    ]


def _in_order(pins: Floats) -> Floats:
    """Return pins one after the other round their middle, so that a bar of several is an outline."""
    if len(pins) < 3:
        return pins
    off = pins - pins.mean(axis=0)
    _, _, axes = np.linalg.svd(off, full_matrices=False)
    flat = off @ axes[:2].T
    return np.asarray(pins[np.argsort(np.arctan2(flat[:, 1], flat[:, 0]))])


def _closed(seen: Floats) -> Floats:
    return np.vstack([seen, seen[:1]]) if len(seen) > 2 else seen


def _ground(x: float, y: float, theme: Theme) -> list[Item]:
    """Return the pin's ground: a line with hatching above it, as in a mechanics book."""
    top = y - 15.0
    items: list[Item] = [
        Path(np.array([[x - 7.0, top], [x, y - _PIN_PX], [x + 7.0, top]]), 1.4, theme.ink),
        Path(np.array([[x - 13.0, top], [x + 13.0, top]]), 1.8, theme.ink),
    ]
    for k in range(5):
        at = x - 12.0 + 6.0 * k
        items.append(Path(np.array([[at, top], [at + 5.0, top - 6.0]]), 1.1, theme.ink))
    return items


def _centre(x: float, y: float, theme: Theme, size_px: float) -> list[Item]:
    reach = _REACH_PX
    return [
        Path(np.array([[x - reach, y], [x + reach, y]]), 2.0, theme.accent),
        Path(np.array([[x, y - reach], [x, y + reach]]), 2.0, theme.accent),
        Disc(x, y, 9.0, 9.0, 2.0, theme.accent, theme.ground),
        Disc(x, y, 2.5, 2.5, 1.0, theme.accent, theme.accent),
        Words("centre", x + reach + 4.0, y + size_px, size_px, theme.accent, "left", ground=theme.ground),
    ]
