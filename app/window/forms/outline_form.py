"""An outline from a drawing file: which unit it was drawn in, seen against a bar of 100 mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from app.editing.names import in_the_habit
from app.editing.outline_edges import MM_PER, UNITS, Unit
from app.editing.outline_import import ImportedLoops, plate_of
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.worded import worded
from geometry.flat_pattern import chopped
from geometry.units import UnitError, parse

_BAR_MM: Final = 100.0


class OutlineForm(Form):
    """Asks for unit and thickness, shows the loops, and puts the plate on the sheet."""

    def __init__(self, door: Door, loops: ImportedLoops, theme: Theme) -> None:
        stated = f"It says it is drawn in {loops.units}." if loops.units else "It does not say its unit."
        super().__init__(
            f"Outline from {loops.name}",
            f"{stated} Look at the bar beside it: does the plate have its size?",
            "Put it on the sheet",
            theme,
        )
        self._door, self._loops = door, loops
        self._picture = _Loops([[(x, y) for x, y in chopped(loop)] for loop in loops.loops], theme)
        self._unit = QComboBox()
        self._unit.addItems(list(UNITS))
        self._unit.setCurrentText(loops.taken_as)
        self._thickness = QLineEdit("6 mm" if not door.bracket.plates else _thickness(door))
        self.rows.addWidget(self._picture)
        self.labelled(worded("drawn in"), self._unit)
        self.labelled(worded("thickness of the sheet"), self._thickness)
        self._unit.currentTextChanged.connect(self._show)
        self._show()

    def _show(self) -> None:
        unit: Unit = self._unit.currentText()  # type: ignore[assignment]
        width, height = self._loops.size_mm(unit)
        self._picture.set_bar(_BAR_MM / MM_PER[unit])
        openings = len(self._loops.loops) - 1
        told = " ".join(self._loops.words)
        self.say(f"{width:.1f} by {height:.1f} mm, {openings} opening{'s'[: openings != 1]}. {told}".strip())

    def is_done(self) -> bool:
        """Put the plate on the sheet; say why if it makes none."""
        unit: Unit = self._unit.currentText()  # type: ignore[assignment]
        try:
            thickness_mm = parse(self._thickness.text(), "mm")
            name = in_the_habit([p.name for p in self._door.bracket.plates], "plate")
            plate = plate_of(self._loops, unit, thickness_mm, None, name)
        except (UnitError, EditRefused) as refused:
            self.say(str(refused), bad=True)
            return False
        kept = self._door.attempt(
            f"outline from {self._loops.name}", lambda bracket: bracket.with_plate(plate)
        )
        if kept:
            self._door.show_plate(name)
        return kept


class _Loops(QWidget):
    """The loops, as large as there is room for, with the bar under them to the same scale."""

    def __init__(self, loops: Sequence[Sequence[tuple[float, float]]], theme: Theme) -> None:
        super().__init__()
        self._loops, self._theme, self._bar = loops, theme, _BAR_MM
        self.setMinimumSize(380, 190)
        self.setAccessibleName(worded("The outline beside a bar of 100 mm"))

    def set_bar(self, long: float) -> None:
        """Draw the bar so long, in the drawing's own unit."""
        self._bar = long
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw loops and bar."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QPolygonF([QPointF(x, -y) for x, y in self._loops[0]]).boundingRect()
        room = QRectF(self.rect()).adjusted(8, 8, -8, -34)
        wide = max(box.width(), self._bar, 1e-9)
        scale = min(room.width() / wide, room.height() / max(box.height(), 1e-9))
        painter.setPen(QPen(QColor(self._theme.ink), 1.4))
        middle = room.center()
        for loop in self._loops:
            places = [
                QPointF(
                    middle.x() + (x - box.center().x()) * scale,
                    middle.y() + (-y - box.center().y()) * scale,
                )
                for x, y in loop
            ]
            painter.drawPolygon(QPolygonF(places))
        self._draw_bar(painter, self._bar * scale)

    def _draw_bar(self, painter: QPainter, long: float) -> None:
        left, level = (self.width() - long) / 2.0, self.height() - 22.0
        painter.setPen(QPen(QColor(self._theme.accent), 2.0))
        painter.drawLine(QPointF(left, level), QPointF(left + long, level))
        for x in (left, left + long):
            painter.drawLine(QPointF(x, level - 4), QPointF(x, level + 4))
        painter.setPen(QColor(self._theme.ink))
        words = QRectF(0, level + 2, self.width(), 18)
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, "100 mm")


def _thickness(door: Door) -> str:
    return f"{door.bracket.plates[0].thickness_mm:g} mm"
