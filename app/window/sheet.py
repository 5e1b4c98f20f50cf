"""The drawing sheet of one bracket: where its parts lie. It knows no more of them than that."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.forms.form import Form
from app.window.lists.caption import thin_bar
from app.window.two_views import TwoViews

_LEAST = QSize(880, 480)
"""Below this the sheet keeps its size and is moved about under the window."""

_LEAST_TITLE_PX = 416


@dataclass(frozen=True)
class SheetParts:
    """What lies on the sheet, from the top."""

    order: QWidget
    views: TwoViews
    said: QWidget
    trial: QWidget
    free_motions: QWidget
    checks: QWidget
    parts_list: QWidget
    notes: QWidget
    title_block: QWidget
    caution: QWidget


class Sheet(QScrollArea):
    """Lays the parts out; a form may be laid over the views."""

    def __init__(self, parts: SheetParts, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._parts = parts
        self._form: Form | None = None
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setWidgetResizable(True)
        # a click on bare paper takes the keyboard from a field, but Tab has nothing to stop at here
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._paper = QWidget()
        self._paper.setMinimumSize(_LEAST)
        self._lists = QWidget()
        row = QHBoxLayout(self._lists)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(14)
        row.addWidget(parts.parts_list, 44)
        row.addWidget(parts.notes, 29)
        row.addWidget(parts.title_block, 27)
        # its own words would claim more and leave the parts list none
        parts.title_block.setMinimumWidth(_LEAST_TITLE_PX)
        column = QVBoxLayout(self._paper)
        column.setContentsMargins(12, 6, 12, 6)
        column.setSpacing(4)
        column.addWidget(parts.order)
        column.addWidget(parts.views, 1)
        column.addWidget(parts.said)
        column.addWidget(parts.trial)
        column.addWidget(parts.free_motions)
        column.addWidget(parts.checks)
        column.addWidget(self._lists)
        column.addWidget(parts.caution)
        self.setWidget(self._paper)
        self.set_theme(theme)

    @property
    def form(self) -> Form | None:
        """Return the form that lies over the views."""
        return self._form

    @property
    def views(self) -> TwoViews:
        """Return the two views."""
        return self._parts.views

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._parts.views.set_theme(theme)
        for bar in (self.verticalScrollBar(), self.horizontalScrollBar()):
            bar.setStyleSheet(thin_bar(theme))

    def lay_over(self, form: Form) -> None:
        """Lay a form over the views, in place of any other."""
        self.take_away()
        self._form = form
        form.setParent(self._paper)
        form.destroyed.connect(self._forget)
        form.ensurePolished()
        form.make_room()
        self._place_form()
        form.show()
        form.raise_()
        form.setFocus()

    def take_away(self) -> None:
        """Take away the form that lies over the views, if there is one."""
        form, self._form = self._form, None
        if form is not None:
            # it is gone for good a little later, when another may already lie here
            form.destroyed.disconnect(self._forget)
            form.hide()
            form.deleteLater()
            self._parts.views.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Give the lists their share of the height."""
        super().resizeEvent(event)
        height = max(self.viewport().height(), _LEAST.height())
        self._lists.setFixedHeight(int(min(max(0.26 * height, 140), 300)))
        self._place_form()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take a form away with Escape; leave all other keys to the window."""
        if event.key() == Qt.Key.Key_Escape and self._form is not None:
            self.take_away()
        else:
            event.ignore()

    def _place_form(self) -> None:
        if self._form is None:
            return
        views = self._parts.views.geometry()
        wanted = self._form.sizeHint()
        width = min(wanted.width(), views.width() - 24)
        height = min(wanted.height(), self._paper.height() - views.top() - 24)
        self._form.setGeometry(views.left() + 12, views.top() + 12, width, height)

    def _forget(self) -> None:
        self._form = None
