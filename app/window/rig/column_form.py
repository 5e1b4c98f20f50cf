"""What the columns of a rig's log hold: asked once, a row for each column."""

from __future__ import annotations

from typing import Final, get_args

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.editing.entry import entered
from app.riglog.columns import UNIT_OF, Columns, Role
from app.riglog.dialect import Dialect
from app.riglog.opened import Said
from app.theme import Theme
from app.window.lists.caption import Link, plain_label, thin_bar
from app.window.worded import worded
from geometry.units import UnitError

_NOTHING: Final = "nothing that is used"
_ROLES: Final[tuple[Role, ...]] = get_args(Role)
_MEANS: Final[dict[Role, str]] = {
    "time": "time", "output": "torque out of the unit", "input": "torque into the unit",
    "couple": "couple on the casing", "force": "force of the load cell", "arm": "arm of the load cell",
    "gauge": "dial gauge", "angle": "angle of the shaft or casing", "speed": "speed of the shaft",
}  # fmt: skip
_MOST: Final = 40


class ColumnForm(QWidget):
    """Asks, and tells when all is said."""

    said = Signal(object)
    """What was said, as `Said`."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.roles: dict[str, QComboBox] = {}
        self.units: dict[str, QLineEdit] = {}
        self.signs: dict[str, QComboBox] = {}
        self.question = plain_label()
        self.arm = self._line(self.tr("Arm of the load cell, mm"))
        self.gauge_arm = self._line(self.tr("Arm of the gauge, mm"))
        self.done = Link(self.tr("read it so, and remember it for logs with these columns"), theme)
        self.done.clicked.connect(lambda: self.said.emit(self.words()))
        self._rows = QGridLayout()
        held = QWidget()
        inside = QVBoxLayout(held)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addLayout(self._rows)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setWidget(held)
        foot = QGridLayout()
        for row, (words, line) in enumerate(
            (
                (
                    self.tr(
                        "load cell: its arm from the shaft axis, mm or such as 10 in, if no column holds it"
                    ),
                    self.arm,
                ),
                (self.tr("gauge: its arm from the shaft axis, mm or such as 16 in"), self.gauge_arm),
            )
        ):
            foot.addWidget(QLabel(words), row, 0)
            foot.addWidget(line, row, 1)
        foot.setColumnStretch(2, 1)
        # close below the columns, where they are looked for
        inside.addLayout(foot)
        inside.addWidget(self.done, 0, Qt.AlignmentFlag.AlignLeft)
        inside.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.question)
        column.addWidget(self._scroll, 1)
        self.set_theme(theme)

    def ask(self, dialect: Dialect, known: Columns, question: str) -> None:
        """Ask of these columns; what is known stands there already."""
        self.question.setText(question)
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.roles, self.units, self.signs = {}, {}, {}
        for place, head in enumerate((self.tr("column"), self.tr("holds"), self.tr("in"), self.tr("sign"))):
            self._rows.addWidget(QLabel(head), 0, place)
        by_name = {column.name: role for role, column in known.of.items() if column.name}
        for row, name in enumerate(dialect.names[:_MOST], start=1):
            self._row(row, name, by_name.get(name), known)
        self._rows.setColumnStretch(0, 1)
        arm = known.of.get("arm")
        self.arm.setText("" if arm is None or arm.figure is None else f"{arm.figure:g}")
        self.gauge_arm.setText("" if known.gauge_arm_mm is None else f"{known.gauge_arm_mm:g}")

    def words(self) -> Said:
        """Return what is said; figures that cannot be read are told where they are used."""
        columns: dict[str, str] = {}
        units: dict[str, str] = {}
        signs: dict[str, str] = {}
        for name, box in self.roles.items():
            role = box.currentData()
            if role is None:
                continue
            columns[role] = name
            if unit := self.units[name].text().strip():
                units[role] = unit
            signs[role] = self.signs[name].currentText()
        if "arm" not in columns and (arm := self.arm.text().strip()):
            columns["arm"] = _in_mm(arm)
        return Said(columns, units, signs, {}, None, _figure(self.gauge_arm.text()))

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.done.set_theme(theme)
        self.setStyleSheet(
            f"QWidget {{ background: {theme.ground}; color: {theme.ink}; }}"
            f"QLineEdit, QComboBox {{ background: {theme.entry}; border: none;"
            f" border-bottom: 1px solid {theme.ink}; padding: 1px 3px; }}"
        )
        self.question.setStyleSheet("font-weight: bold;")
        self._scroll.verticalScrollBar().setStyleSheet(thin_bar(theme))

    def _row(self, row: int, name: str, role: Role | None, known: Columns) -> None:
        holds = QComboBox()
        holds.addItem(self.tr(_NOTHING), None)
        for one in _ROLES:
            holds.addItem(self.tr(_MEANS[one]), one)
        holds.setCurrentIndex(0 if role is None else 1 + _ROLES.index(role))
        holds.setAccessibleName(worded("What column {name} holds", name=name))
        unit = self._line(f"Unit of column {name}")
        unit.setText("" if role is None else known.of[role].unit)
        sign = QComboBox()
        sign.addItems(["+", "-"])
        sign.setAccessibleName(worded("Sign of column {name}", name=name))
        sign.setCurrentIndex(1 if role is not None and known.of[role].sign < 0 else 0)
        holds.currentIndexChanged.connect(lambda _: _usual(unit, holds.currentData()))
        label = QLabel(name)
        label.setTextFormat(Qt.TextFormat.PlainText)
        for place, widget in enumerate((label, holds, unit, sign)):
            self._rows.addWidget(widget, row, place)
        self.roles[name], self.units[name], self.signs[name] = holds, unit, sign

    def _line(self, told: str) -> QLineEdit:
        line = QLineEdit()
        line.setMaximumWidth(110)
        line.setAccessibleName(told)
        return line


def _usual(unit: QLineEdit, role: Role | None) -> None:
    """Tell in grey which unit is meant where none is typed yet."""
    unit.setPlaceholderText("" if role is None else f"such as {UNIT_OF[role]}")


def _in_mm(text: str) -> str:
    """Return a length that carries another unit as the number of mm it is; anything else as it stands."""
    try:
        return f"{entered(text, 'mm'):.6g}"
    except UnitError:
        return text


def _figure(text: str) -> float | None:
    """Return the number typed; None for nothing, and one that cannot be for what is no number."""
    if not text.strip():
        return None
    try:
        return float(_in_mm(text).replace(",", "."))
    except ValueError:
        return 0.0  # refused with a sentence where it is used
