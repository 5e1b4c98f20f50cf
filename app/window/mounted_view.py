"""The bracket as mounted: a plain widget that shows a painted image, turns it, and picks in it."""

from __future__ import annotations

import time
from typing import Final

import numpy as np
from PySide6.QtCore import QEvent, QPointF, Qt, QTimer, Signal
from PySide6.QtGui import QEnterEvent, QHideEvent, QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.mounted.picking import Picked
from app.mounted.probe import SENTENCE
from app.mounted.stands import Stand
from app.theme import Theme
from app.window.mounted_painting import Painting
from app.window.painted_scene import PaintedScene
from app.wording.figures import Units, quantity
from geometry.bracket import Bracket
from solver.results import Results

HOVER_MS: Final = 40
FRAME_MS: Final = 33
SWINGS_PER_S: Final = 1.0
CLICK_PX: Final = 4.0
"""A press that moves no further is a click."""
KEY_PX: Final = 25.0
"""An arrow key turns or moves the picture as a drag of this length would."""
ZOOM_STEP: Final = 1.2


class MountedView(PaintedScene):
    """Shows one bracket as mounted: turned, moved and zoomed by hand, picked in, swinging if asked."""

    picked = Signal(str, str)
    """Kind and name of what was clicked; both empty for nothing."""
    hovered = Signal(str)
    """What lies under the pointer, in words; empty for nothing."""

    def __init__(self, parent: QWidget | None = None, painting: Painting | None = None) -> None:
        """Make an empty view; views that share a `painting` share its painter."""
        super().__init__(parent, painting)
        self._press: QPointF | None = None
        self._last = QPointF()
        self._dragging = False
        self._swing_from = 0.0
        self._results: Results | None = None
        self._pencil = False
        self._under: Picked | None = None
        self._units: Units = "mm"
        self._hover = self.timer(HOVER_MS, self._say)
        self._play = QTimer(self)
        self._play.setInterval(FRAME_MS)
        self._play.timeout.connect(self._swing)
        self.setMouseTracking(True)
        self.setAccessibleName(self.tr("The bracket as mounted"))
        self.painting.ready.connect(self._describe)
        self._describe()

    # -- what is shown

    def set_bracket(self, bracket: Bracket) -> None:
        """Show a bracket; results that are not its own are left aside until theirs comes back."""
        self.scene.show(bracket, self._results, pencil=self._pencil)
        self._shown()

    def set_results(self, results: Results | None, pencil: bool) -> None:
        """Show results with the bracket, in pencil if they were not refined."""
        if results is self._results and pencil == self._pencil:
            return
        self._results, self._pencil = results, pencil
        self.scene.show(self.scene.bracket, results, pencil=pencil)
        self._shown()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another theme."""
        self.scene.set_theme(theme)
        self.ask()

    def set_inch(self, inch: bool) -> None:
        """Say figures at the pointer, on contour lines and under the picture in inch units."""
        self._units = "inch" if inch else "mm"
        self.scene.set_units(self._units)
        self._shown()

    def set_selected(self, kind: str | None, name: str = "") -> None:
        """Draw one thing as selected; None selects nothing."""
        self.scene.select(kind, name)
        self.ask()

    def set_exaggeration(self, factor: float | None) -> None:
        """Draw the movement times a factor: 1 is true scale, None a round factor well seen."""
        self.scene.set_exaggeration(factor)
        self._describe()
        self.moving()

    def show_free_motion(self, number: int | None) -> None:
        """Show a free motion of the results in place of the deflection; None ends it."""
        self.scene.show_free_motion(number)
        self._shown()

    def show_case(self, number: int | None) -> None:
        """Show the movement of a load case of the results; None the one that moves most."""
        self.scene.show_case(number)
        self._shown()

    def show_map(self, on: bool) -> None:
        """Draw the map of stress, or bare metal."""
        self.scene.show_map(on=on)
        self._shown()

    def show_forces(self, on: bool) -> None:
        """Draw bolt forces as arrows, or leave them out."""
        self.scene.show_forces(on=on)
        self._shown()

    def play(self, on: bool) -> None:
        """Let the picture swing about once a second, or bring it to rest fully moved."""
        if on == self._play.isActive():
            return
        if on:
            self._swing_from = time.perf_counter()
            self._play.start()
        else:
            self._play.stop()
            self.scene.set_phase(np.pi / 2.0)
            self.ask()

    @property
    def playing(self) -> bool:
        """Return whether the picture swings."""
        return self._play.isActive()

    def stand(self, name: Stand) -> None:
        """Look from a named stand."""
        self.scene.stand(name)
        self.ask()

    def is_moving(self) -> bool:
        """Return whether it is dragged or swings: a draft will do."""
        return self._dragging or self._play.isActive() or super().is_moving()

    def fit(self) -> None:
        """Bring the whole bracket into the picture."""
        self.look_at_all()

    def pin_here(self) -> None:
        """Leave a label with what lies under the pointer, if anything does."""
        if self._under is not None:
            self.scene.pin(self._under.at_mm, self._words_of(self._under))
            self.ask()

    def unpin(self) -> None:
        """Take all labels off."""
        self.scene.unpin()
        self.ask()

    # -- by hand

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Stop swinging."""
        self.play(on=False)
        super().hideEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Begin a click or a drag."""
        self._press = self._last = event.position()
        self._dragging = False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Turn by a drag, move by one with Shift or the right button; say what lies under the pointer."""
        at = event.position()
        if self._press is None:
            self._last = at
            self._hover.start()
            return
        if not self._dragging and _length(at - self._press) < CLICK_PX:
            return
        self._dragging = True
        by = (at - self._last) / self.words_scale
        self._last = at
        turns = event.buttons() & Qt.MouseButton.LeftButton
        shifted = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        self._drag(by.x(), by.y(), turn=bool(turns) and not shifted)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Pick, unless it was a drag."""
        was_click = self._press is not None and not self._dragging
        self._press, self._dragging = None, False
        if was_click and event.button() == Qt.MouseButton.LeftButton:
            found = self._pick(event.position())
            self.picked.emit(*(("", "") if found is None else (found.kind, found.name)))
        self.moving()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Leave a label."""
        self._under = self._pick(event.position())
        self.pin_here()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Zoom at the pointer."""
        at = event.position() / self.words_scale
        self._zoom(ZOOM_STEP ** (event.angleDelta().y() / 120.0), at.x(), at.y())
        event.accept()

    def enterEvent(self, event: QEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Begin to say what lies under the pointer."""
        self._last = event.position()
        self._hover.start()
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Say nothing any more."""
        self._hover.stop()
        self._under = None
        self.hovered.emit("")
        super().leaveEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Turn by arrows (move with Shift), zoom by plus and minus, fit by Home, leave a label by P."""
        arrows = {
            Qt.Key.Key_Left: (-KEY_PX, 0.0),
            Qt.Key.Key_Right: (KEY_PX, 0.0),
            Qt.Key.Key_Up: (0.0, -KEY_PX),
            Qt.Key.Key_Down: (0.0, KEY_PX),
        }
        key = Qt.Key(event.key())
        width, height = self.scene.camera.size_px
        if key in arrows:
            shifted = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            self._drag(*arrows[key], turn=not shifted)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self._zoom(ZOOM_STEP, width / 2.0, height / 2.0)
        elif key == Qt.Key.Key_Minus:
            self._zoom(1.0 / ZOOM_STEP, width / 2.0, height / 2.0)
        elif key == Qt.Key.Key_Home:
            self.fit()
        elif key == Qt.Key.Key_P:
            self.pin_here()
        else:
            super().keyPressEvent(event)

    # -- inside

    def _shown(self) -> None:
        self._describe()
        self.ask()

    def _drag(self, right_px: float, down_px: float, *, turn: bool) -> None:
        camera = self.scene.camera
        self.look(camera.turned(right_px, down_px) if turn else camera.panned(right_px, down_px))

    def _zoom(self, factor: float, x_px: float, y_px: float) -> None:
        self.look(self.scene.camera.zoomed(factor, x_px, y_px))

    def _swing(self) -> None:
        seconds = time.perf_counter() - self._swing_from
        self.scene.set_phase(np.pi / 2.0 + 2.0 * np.pi * SWINGS_PER_S * seconds)
        self.ask()

    def _pick(self, at: QPointF) -> Picked | None:
        return self.scene.pick(at.x() / self.words_scale, at.y() / self.words_scale)

    def _say(self) -> None:
        self._under = self._pick(self._last)
        self.hovered.emit("" if self._under is None else self._words_of(self._under))

    def _words_of(self, found: Picked) -> str:
        name = found.name if found.name.startswith(found.kind) else f"{found.kind} {found.name}"
        return (
            name
            if found.value is None
            else self.tr("%1: %2")
            .replace("%1", name)
            .replace("%2", quantity(found.value, "MPa", self._units))
        )

    def _describe(self) -> None:
        keys = self.tr("Arrows turn it, Shift and arrows move it, plus and minus zoom, Home fits it in.")
        still = self.tr(SENTENCE) if self._is_still() else ""
        self.setAccessibleDescription(f"{self.scene.words()}. {keys} {still}".strip())


def _length(way: QPointF) -> float:
    return float(np.hypot(way.x(), way.y()))
