"""The order in which a bracket is best described: offered as a line of small steps, none of them forced."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from app.theme import Theme
from geometry.bracket import Bracket


@dataclass(frozen=True)
class OrderStep:
    """One thing to be described."""

    name: str
    is_blank: bool
    tip: str


def order_of(bracket: Bracket) -> tuple[OrderStep, ...]:
    """Return the steps in the order offered, with which of them nobody has filled in yet."""
    casing, bar = bracket.casing, bracket.dash_bar
    has_bosses = casing is not None and bool(casing.bosses)
    bolted = any(bolt.joins.to == "boss" for bolt in bracket.bolts)
    return (
        OrderStep(
            "casing and bosses", not has_bosses, "Where the unit's threaded bosses are, from callipers"
        ),
        OrderStep("clocking", not has_bosses, "How far the casing is turned about the shaft"),
        OrderStep("column", bracket.column.held_by is None, "What else holds the steering column"),
        OrderStep("dash bar", bar is None and not bracket.anchors, "The tube that spans the car"),
        OrderStep(
            "plate", not (bracket.plates and bolted), "The flat pattern, folded and bolted to the bosses"
        ),
    )


class OrderLine(QWidget):
    """The steps as words with a ring before them: open while blank, filled when described."""

    asked = Signal(str)
    """Name of the step to go to."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._buttons: dict[str, QPushButton] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        for step in order_of(Bracket()):
            if self._buttons:
                row.addWidget(QLabel("\u203a"))
            button = QPushButton(step.name)
            button.setFlat(True)
            button.setCursor(Qt.CursorShape.PointingHandCursor)
            button.setToolTip(step.tip)
            button.clicked.connect(lambda _=False, name=step.name: self.asked.emit(name))
            row.addWidget(button)
            self._buttons[step.name] = button
        row.addStretch(1)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(
            f"QPushButton {{ color: {theme.pencil}; border: none; padding: 1px 4px; text-align: left; }}"
            f"QPushButton[blank=true] {{ color: {theme.ink}; }}"
            f"QPushButton:hover, QPushButton:focus {{ text-decoration: underline; color: {theme.accent}; }}"
            f"QLabel {{ color: {theme.pencil}; }}"
        )

    def set_bracket(self, bracket: Bracket) -> None:
        """Say which steps are still blank."""
        for step in order_of(bracket):
            button = self._buttons[step.name]
            button.setText(f"{'○' if step.is_blank else '●'} {step.name}")
            button.setAccessibleName(f"{step.name}, {'still blank' if step.is_blank else 'described'}")
            if button.property("blank") != step.is_blank:
                button.setProperty("blank", step.is_blank)
                button.style().polish(button)
