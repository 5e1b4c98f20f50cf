"""The lesson's picture: the bracket as mounted with its linkage, couple, and arm drawn over it."""

from __future__ import annotations

from typing import Final

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.lesson.figures import CoupleFigures
from app.lesson.linkage_drawing import LinkageDrawing, couple_items, linkage_items
from app.lesson.motion_pictures import FREE_SHARE
from app.mounted.overlay import Disc, Item, Path, Words
from app.mounted.shapes import CASING
from app.window.mounted_painting import Painting
from app.window.mounted_view import MountedView
from app.window.overlay_painter import paint_items
from app.wording.figures import figure, sentence_in_units
from geometry.bracket import Bracket
from solver.results import Results

WORDS_PX: Final = 15.0
_SEEN_PX: Final = 20.0
"""An arm shorter than this is seen from its end."""


class LessonView(MountedView):
    """Draws what a lesson speaks of over the picture, wherever that has moved to."""

    def __init__(self, parent: QWidget | None = None, painting: Painting | None = None) -> None:
        super().__init__(parent, painting)
        self._drawing: LinkageDrawing | None = None
        self._figures: CoupleFigures | None = None
        self._forces = True
        self._free: int | None = None
        self.scene.set_free_motion_share(FREE_SHARE)
        self.scene.show_map(on=False)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(self.tr("The bracket as mounted, drawn as a linkage"))

    def show_lesson(
        self, bracket: Bracket, results: Results | None, free: int | None, case: int | None
    ) -> None:
        """Show a bracket with its free motion of that number, or else how a load case moves it."""
        scene = self.scene
        if self._free is not None:
            scene.show_free_motion(None)
        scene.show(bracket, results)
        self._results, self._free = results, free
        if free is not None:
            scene.show_free_motion(free)
        elif scene.results is not None:
            scene.show_case(case)
        self._shown()

    def set_linkage(self, drawing: LinkageDrawing | None) -> None:
        """Draw a linkage over the plates, or none."""
        self._drawing = drawing
        self.update()

    def set_couple(self, figures: CoupleFigures | None, *, forces: bool = True) -> None:
        """Draw the couple, and unless forces are what is asked the arm with who stands at its end."""
        self._figures, self._forces = figures, forces
        self.update()

    def over_items(self) -> list[Item]:
        """Return what is drawn over the picture now."""
        scene = self.scene
        items: list[Item] = []
        if self._drawing is not None:
            items += linkage_items(self._drawing, scene.camera, scene.theme, scene.moved, WORDS_PX)
        if self._figures is not None:
            words = sentence_in_units(f"{figure(self._figures.felt_nm)} N.m", self._units)
            items += couple_items(scene.camera, scene.bracket, words, scene.theme, WORDS_PX)
            items += self._arm_items(self._figures) if self._forces else []
        # a bolt is called by its number: nothing may hide it
        return [*items, *scene.balloons()]

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Put the picture on the screen and the lesson over it."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.scale(self.words_scale, self.words_scale)
        paint_items(painter, self.over_items(), self.font())
        painter.end()

    def _arm_items(self, figures: CoupleFigures) -> list[Item]:
        """Return the arm laid level beside the shaft, and a person's weight at its end."""
        arm, theme, camera = figures.arm, self.scene.theme, self.scene.camera
        if arm is None or figures.person_kg is None:
            return []
        ends = self.scene.moved(np.array([arm.shaft_mm, arm.level_mm]), CASING)
        (x0, y0), (x1, y1) = camera.project(ends)[:, :2].tolist()
        if np.hypot(x1 - x0, y1 - y0) < _SEEN_PX:
            return []
        right = camera.size_px[0] - 10.0
        at_y = y1 - 58.0
        words = sentence_in_units(f"a person of {figure(figures.person_kg)} kg here", self._units)
        half = 0.5 * 0.55 * WORDS_PX * len(words)
        at_x = min(max(x1, half + 8.0), right - half)
        return [
            Path(np.array([[x0, y0], [x1, y1]]), 5.0, theme.ground),
            Path(np.array([[x0, y0], [x1, y1]]), 2.5, theme.accent),
            Words(
                sentence_in_units(f"{arm.length_mm:.0f} mm", self._units),
                (x0 + x1) / 2.0,
                (y0 + y1) / 2.0 + WORDS_PX,
                WORDS_PX,
                theme.accent,
                ground=theme.ground,
            ),
            Disc(x0, y0, 4.0, 4.0, 1.5, theme.accent, theme.ground),
            *_person(x1, y1 - 2.0, theme.ink),
            Words(words, at_x, at_y, WORDS_PX, theme.ink, ground=theme.ground),
        ]


def _person(x: float, y: float, colour: str) -> list[Item]:
    """Return somebody who stands with both feet at a place, 42 px tall."""
    lines = (
        [[x - 6.0, y], [x, y - 16.0], [x + 6.0, y]],
        [[x, y - 16.0], [x, y - 31.0]],
        [[x - 8.0, y - 19.0], [x, y - 29.0], [x + 8.0, y - 19.0]],
    )
    found: list[Item] = [Path(np.array(line), 2.4, colour) for line in lines]
    return [*found, Disc(x, y - 37.0, 5.0, 5.0, 1.5, colour, colour)]
