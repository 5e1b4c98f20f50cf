"""One value on the sheet that is typed over where it stands.

At rest it is a number of the drawing with a thin rule under it; a blank is an open box. With the focus it is
an entry: Enter takes what is typed, Esc leaves it as it was. What cannot be read stays, with its sentence.
"""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QCoreApplication, QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
)
from PySide6.QtWidgets import QLineEdit, QWidget

from app.theme import Theme
from app.window.lists.caption import plain_tip
from app.window.lists.choices import Choices
from app.window.lists.entries import Entries
from app.window.lists.field import OPEN_BOX, Field
from app.window.lists.field_drawing import EDGE_PX, FieldLook, draw_at_rest

_BLANK_EMS: Final = 4
_OPENS: Final = (Qt.Key.Key_F4, Qt.Key.Key_F2)


class FieldEdit(QLineEdit):
    """A field of a list or a note."""

    refused = Signal(str)
    """Why what was typed cannot be; empty once it can."""
    reached = Signal()
    """It got the focus."""
    stepped = Signal(int)
    """Up (-1) or down (1) was pressed."""
    resized = Signal()
    """It needs more or less room than before."""

    def __init__(self, entries: Entries, field: Field, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries = entries
        self._theme = theme
        self._field = field
        self._fault = self._remark = ""
        self._choices: Choices | None = None
        self._fresh = False
        self._taken_away = False
        self.setFrame(False)
        self.setTextMargins(0, 0, 0, 0)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.textChanged.connect(self._settle_width)
        entries.noticed.connect(self._look_again)
        self.show_field(field)
        self.set_theme(theme)

    @property
    def field(self) -> Field:
        """Return the field that is shown."""
        return self._field

    @property
    def fault(self) -> str:
        """Return why what stands in it cannot be; empty if it can."""
        return self._fault

    @property
    def below(self) -> str:
        """Return what is said below it: why it cannot be, or what was found about what stands in it."""
        return self._fault or self._remark

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        palette = QPalette(self.palette())
        palette.setColor(QPalette.ColorRole.Base, QColor(theme.entry))
        palette.setColor(QPalette.ColorRole.Text, QColor(theme.bad if self._fault else theme.ink))
        palette.setColor(QPalette.ColorRole.Highlight, QColor(theme.accent))
        palette.setColor(QPalette.ColorRole.HighlightedText, QColor(theme.ground))
        self.setPalette(palette)
        self.update()

    def show_field(self, field: Field) -> None:
        """Show a field; what was typed and refused stays for as long as the value itself does."""
        same = field.paths == self._field.paths and field.value == self._field.value
        if field.choices != self._field.choices:
            self._choices = None
        self._field = field
        if not (same and (self._fault or (self.hasFocus() and self.isModified()))):
            self._rest()
        self._remark = self._entries.remark(field)
        self._name()

    def commit(self) -> None:
        """Take what is typed, if it differs from what is there."""
        text = self.text()
        if not self.isModified() or self._is_rest(text):
            self._set_fault("")
            self._rest()
            return
        fault = self._entries.commit(self._field, text)
        self._set_fault(fault)
        if not fault:
            self._rest()

    def take_away(self) -> None:
        """Be no more; what stood in it is not taken, for there is nothing left to take it."""
        self._taken_away = True
        self.hide()
        self.deleteLater()

    def leave(self) -> bool:
        """Put back what stood there; return whether anything was typed."""
        typed = bool(self._fault) or not self._is_rest(self.text())
        self._set_fault("")
        self._rest()
        if self.hasFocus():
            self.selectAll()
        return typed

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the text, its mark and the word `looser`."""
        metrics = self.fontMetrics()
        text = self.text()
        blank = text == OPEN_BOX or (not text and self._rest_text() == OPEN_BOX)
        width = metrics.horizontalAdvance("m" * _BLANK_EMS if blank else text)
        if self.hasFocus():
            width += metrics.horizontalAdvance("mm")
        return QSize(width + 2 * EDGE_PX + 1 + self._mark_px() + self._looser_px(), metrics.height() + 4)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for a digit or two."""
        return QSize(self.fontMetrics().horizontalAdvance("mm"), self.fontMetrics().height() + 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Enter takes or begins, Esc leaves, F4 or Alt+Down offers the choices, Up and Down change rows."""
        if self._choices is not None and self._choices.takes(event.key()):
            event.ignore()  # the list below takes them, once nobody else does
            return
        key, alt = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter()
        elif key == Qt.Key.Key_Escape and self.leave():
            return
        elif self._field.choices and (key in _OPENS or (key == Qt.Key.Key_Down and alt)):
            self.offer()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if key == Qt.Key.Key_Up else 1)
        else:
            super().keyPressEvent(event)

    def offer(self) -> None:
        """Show the choices below, made when they are first asked for."""
        if not self._field.choices:
            return
        if self._choices is None:
            self._choices = Choices(self._field.choices, self)
            self._choices.activated.connect(self._choose)
        self._choices.complete()

    @property
    def choices(self) -> Choices | None:
        """Return the list of choices, once it was asked for."""
        return self._choices

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the focus with everything selected, and offer the choices there are."""
        fresh, self._fresh = self._fresh, False  # the focus comes before the press
        super().mousePressEvent(event)
        if fresh:
            self.selectAll()
            if self._field.choices:
                self.offer()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Keep everything selected after the press that brought the focus."""
        if not self.isModified() and self.hasSelectedText():
            return
        super().mouseReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Select everything, so that typing replaces it."""
        super().focusInEvent(event)
        if self.text() == OPEN_BOX:
            self._rest()
        self._fresh = event.reason() == Qt.FocusReason.MouseFocusReason
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.selectAll()
        self._settle_width()
        self.reached.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take what was typed, as Enter does."""
        super().focusOutEvent(event)
        if self._taken_away:
            return
        if event.reason() not in (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            self.commit()
            if not self._fault:
                self._rest()
            self.deselect()
            self.setCursorPosition(0)
        self._settle_width()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw a number of the sheet at rest, an entry with the focus."""
        if self.hasFocus():
            super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if not self.hasFocus():
            draw_at_rest(painter, self.rect(), self._look())
            return
        painter.setPen(QPen(QColor(self._theme.bad if self._fault else self._theme.accent), 2))
        painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window while nothing is being typed."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            steps = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
            if not self.isModified() and any(event.matches(step) for step in steps):
                event.ignore()
                return False
        return super().event(event)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Follow another font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._settle_width()

    def _enter(self) -> None:
        if not self._is_rest(self.text()):
            self.commit()
            if not self._fault:
                self.selectAll()
        elif self._field.choices:
            self.offer()
        else:
            self.selectAll()

    def _look(self) -> FieldLook:
        return FieldLook(
            text=self.text(),
            theme=self._theme,
            metrics=self.fontMetrics(),
            wrong=bool(self._fault),
            nothing=self._field.varies or (self._field.value is None and not self._fault),
            mark_px=self._mark_px(),
            after=self._looser_word() if self._field.looser else "",
            after_px=self._looser_px(),
        )

    def _mark_px(self) -> int:
        return self.fontMetrics().height() * 2 // 3 if self._field.usual else 0

    def _looser_px(self) -> int:
        return self.fontMetrics().horizontalAdvance(self._looser_word()) + 4 if self._field.looser else 0

    def _looser_word(self) -> str:
        return QCoreApplication.translate("FieldEdit", "looser")

    def _is_rest(self, text: str) -> bool:
        """Return whether nothing was typed."""
        rest = self._rest_text().strip()
        return text.strip() == rest or (rest == OPEN_BOX and not text.strip())

    def _rest_text(self) -> str:
        return self._entries.text(self._field)

    def _rest(self) -> None:
        text = self._rest_text()
        # A blank that is being filled is empty: nobody types over strokes.
        self.setText("" if text == OPEN_BOX and self.hasFocus() else text)
        self.setModified(False)
        if not self.hasFocus():
            self.setCursorPosition(0)

    def _set_fault(self, fault: str) -> None:
        if fault == self._fault:
            return
        self._fault = fault
        self.set_theme(self._theme)
        self._name()
        self.refused.emit(fault)

    def _look_again(self) -> None:
        remark = self._entries.remark(self._field)
        if remark != self._remark and not self._taken_away:
            self._remark = remark
            self._name()
            self.refused.emit(self.below)

    def _settle_width(self) -> None:
        self.updateGeometry()
        self.resized.emit()
        self.update()

    def _choose(self, text: str) -> None:
        self.setText(text)
        self.setModified(True)
        self.commit()
        self.selectAll()

    def _name(self) -> None:
        tell = QCoreApplication.translate
        value = tell("FieldEdit", "blank") if self._rest_text() == OPEN_BOX else self._rest_text()
        told = [self._field.spoken, value]
        if self._field.usual:
            told.append(tell("FieldEdit", "off the usual {0}").replace("{0}", self._field.usual))
        if self._field.looser:
            told.append(tell("FieldEdit", "looser than the default"))
        if self.below:
            told.append(self.below)
        self.setAccessibleName(", ".join(told[:2]))
        self.setAccessibleDescription("; ".join(told[2:]))
        # a cell may be too narrow for its value
        tip = "; ".join((f"{self._field.spoken}: {value}", *told[2:]))
        if self._field.choices:
            tip += ". " + tell("FieldEdit", "Alt+Down shows the choices")
        self.setToolTip(plain_tip(tip))
