"""All faces and lines of the shapes put together, moved and coloured: what a frame is made of."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from app.mounted.camera import Camera
from app.mounted.frame import Drawn, Faces, Frame
from app.mounted.look import SELECTED_SHARE, SELECTED_TIMES, STROKES, rgb, shaded, stroke_rgb
from app.mounted.motion import Motion
from app.mounted.shapes import Body, Floats, Ints, Lines, Pen, Rounds, Shapes, Surface, normals_of
from app.theme import Theme

MOST_DASHES: Final = 400
"""Of one straight piece; a longer one gets longer dashes."""
Thing = tuple[str, str]
"""Kind and name."""


class Assembly:
    """The shapes of one bracket in one theme, with one thing selected or none."""

    def __init__(self, shapes: Shapes, theme: Theme, selected: Thing | None) -> None:
        """Put the faces of each opacity together once."""
        self.shapes = shapes
        self._theme = theme
        self._selected = selected
        self.solid = [s for s in shapes.surfaces if s.fill != "casing"]
        self.see_through = [s for s in shapes.surfaces if s.fill == "casing"]
        self._solid = _Stack(self.solid, theme, selected)
        self._see_through = _Stack(self.see_through, theme, selected)
        self._strokes: dict[tuple[object, ...], dict[str, Drawn]] = {}

    def frame(self, camera: Camera, motion: Motion, factor: float) -> Frame:
        """Return the frame for a camera, with everything moved."""
        return Frame(
            camera,
            rgb(self._theme.ground),
            self._solid.faces(motion, factor),
            self._see_through.faces(motion, factor),
            self._lines(camera, motion, factor),
        )

    def _lines(self, camera: Camera, motion: Motion, factor: float) -> dict[str, Drawn]:
        key = (motion, factor)
        if key not in self._strokes:
            self._strokes = {key: self._still_lines(motion, factor)}
        drawn = dict(self._strokes[key])
        for line in self.shapes.lines:
            dashes = STROKES[line.pen].dashes_px
            if dashes:
                ends = motion.moved(line.ends, line.moved, line.body, factor)
                name = f"{line.kind} {line.name} {line.pen}"
                if line.kind == "casing" and ends is not line.ends:
                    drawn[f"{name} rest"] = self._drawn("rest", line.ends)
                drawn[name] = self._drawn(
                    line.pen, dashed(ends, np.array(dashes) * camera.mm_per_px), self._is_selected(line)
                )
        for selected in (False, True):
            seen = [
                _silhouette(rounds, camera, motion, factor)
                for rounds in self.shapes.rounds
                if self._is_selected(rounds) == selected
            ]
            if seen:
                drawn[f"rounds {selected}"] = self._drawn("edge", np.concatenate(seen), selected)
        return drawn

    def _still_lines(self, motion: Motion, factor: float) -> dict[str, Drawn]:
        """Return the lines that do not change with the camera, one entry for each pen."""
        found: dict[tuple[Pen, bool], list[Floats]] = {}
        for line in self.shapes.lines:
            if STROKES[line.pen].dashes_px or len(line.ends) == 0:
                continue
            ends = motion.moved(line.ends, line.moved, line.body, factor)
            found.setdefault((line.pen, self._is_selected(line)), []).append(ends)
            if line.kind == "plate" and line.pen == "edge" and ends is not line.ends:
                found.setdefault(("rest", False), []).append(line.ends)
        return {
            f"{pen} {selected}": self._drawn(pen, np.concatenate(ends), selected)
            for (pen, selected), ends in found.items()
        }

    def _drawn(self, pen: Pen, ends: Floats, selected: bool = False) -> Drawn:
        stroke = STROKES[pen]
        if not selected:
            return Drawn(ends, stroke.width_px, stroke_rgb(self._theme, pen))
        return Drawn(ends, SELECTED_TIMES * stroke.width_px, rgb(self._theme.accent))

    def _is_selected(self, part: Lines | Rounds) -> bool:
        if part.kind == "plate" and isinstance(part, Lines) and part.pen in ("contour", "limit", "hatch"):
            return False
        return (part.kind, part.name) == self._selected


def dashed(ends: Floats, pattern_mm: Floats) -> Floats:
    """Return the drawn parts (k, 2, 3) of straight pieces, dash and gap by turns, a dash at both ends."""
    found = [np.zeros((0, 2, 3))]
    for start, end in ends:
        length = float(np.linalg.norm(end - start))
        period = float(pattern_mm.sum())
        count = min(MOST_DASHES, int((length - pattern_mm[0]) / period))
        if count < 1:
            found.append(np.stack([start, end])[None])
            continue
        # Stretched a little, so that it ends as it begins.
        stretch = length / (count * period + pattern_mm[0])
        marks = np.concatenate([[0.0], np.cumsum(pattern_mm)]) * stretch
        offs = np.arange(count)[:, None] * period * stretch
        pairs = [
            np.stack([offs + marks[i], offs + marks[i + 1]], axis=2) for i in range(0, len(pattern_mm), 2)
        ]
        shares = np.concatenate([np.concatenate(pairs, axis=1).reshape(-1, 2), [[length - marks[1], length]]])
        found.append(start + shares[:, :, None] / length * (end - start))
    return np.concatenate(found)


class _Stack:
    """Surfaces end to end as one array of points and one of triangles."""

    def __init__(self, surfaces: Sequence[Surface], theme: Theme, selected: Thing | None) -> None:
        self._surfaces = surfaces
        counts = [0, *np.cumsum([len(s.points) for s in surfaces])]
        self._points = _joined([s.points for s in surfaces], (0, 3))
        self._triangles: Ints = _joined(
            [s.triangles + first for s, first in zip(surfaces, counts, strict=False)], (0, 3)
        ).astype(np.int64)
        self._colours = _joined([_colours(s, theme, selected) for s in surfaces], (0, 3)).astype(np.uint8)
        self._moved: tuple[Motion, float, Faces] | None = None

    def faces(self, motion: Motion, factor: float) -> Faces:
        if self._moved is None or self._moved[0] is not motion or self._moved[1] != factor:
            still = factor == 0.0 or not self._surfaces
            points = (
                self._points
                if still
                else np.concatenate([motion.moved(s.points, s.moved, s.body, factor) for s in self._surfaces])
            )
            self._moved = motion, factor, Faces(points, self._triangles, self._colours)
        return self._moved[2]


def _colours(surface: Surface, theme: Theme, selected: Thing | None) -> np.ndarray:
    colours = shaded(theme, surface.fill, normals_of(surface.points, surface.triangles))
    if (surface.kind, surface.name) != selected or surface.fill in ("near", "over"):
        return colours
    accent = np.array(rgb(theme.accent), dtype=float)
    return np.round((1.0 - SELECTED_SHARE) * colours + SELECTED_SHARE * accent).astype(np.uint8)


def _joined(arrays: Sequence[np.ndarray], empty: tuple[int, int]) -> np.ndarray:
    return np.concatenate(arrays) if arrays else np.zeros(empty)


def _silhouette(rounds: Rounds, camera: Camera, motion: Motion, factor: float) -> Floats:
    facing = rounds.normals @ camera.axes[2] > 0.0
    mine = facing[:, 0] != facing[:, 1]
    moved = None if rounds.moved is None else rounds.moved[mine]
    return motion.moved(rounds.ends[mine], moved, rounds.body, factor)


def body_points(shapes: Shapes) -> dict[Body, Floats]:
    """Return the points (n, 3) of each body's faces, mm."""
    found: dict[Body, list[Floats]] = {}
    for surface in shapes.surfaces:
        found.setdefault(surface.body, []).append(surface.points)
    return {body: np.concatenate(points) for body, points in found.items()}
