"""The order in which Tab goes through the parts of a page: as they are read, whatever was made last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from PySide6.QtCore import QObject, QPoint, Qt, QTimer
from PySide6.QtWidgets import QWidget

_SOON_MS: Final = 40
"""After a change: what is new has found its place by then."""
_SAME_LINE_PX: Final = 8
_VIEWPORT: Final = "qt_scrollarea_viewport"
"""The library's name for what hands the keyboard on to the view round it."""


class TabOrder(QObject):
    """Keeps parts in order, and what is in a part in the order of reading.

    Rows and notes come and go, and the library puts every new one behind all others. It is asked for no
    neighbour in its own chain: the binding takes the answer for a child of the one that was asked, and lets
    go of it together with that.
    """

    def __init__(self, parts: Sequence[QWidget], parent: QObject) -> None:
        super().__init__(parent)
        self._parts = tuple(parts)
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self.settle)
        for part in self._parts:
            part.destroyed.connect(self._forget)

    def settle_soon(self) -> None:
        """Put the parts in order once everything that is being changed has changed."""
        self._soon.start()

    def settle(self) -> None:
        """Put the parts in order."""
        before: QWidget | None = None
        for part in self._parts:
            for stop in _stops(part):
                if before is not None:
                    QWidget.setTabOrder(before, stop)
                before = stop

    def _forget(self) -> None:
        """Put nothing in order any more: the window goes."""
        self._soon.stop()
        self._parts = ()


def _stops(part: QWidget) -> Iterator[QWidget]:
    """Yield what Tab stops at in a part: itself, then line by line, each from the left."""
    if _takes_tab(part):
        yield part
    places = [(_middle(part, widget), widget) for widget in part.findChildren(QWidget) if _takes_tab(widget)]
    places.sort(key=lambda place: place[0].y())
    line: list[tuple[QPoint, QWidget]] = []
    for place in places:
        if line and place[0].y() - line[0][0].y() > _SAME_LINE_PX:
            yield from _from_left(line)
            line = []
        line.append(place)
    yield from _from_left(line)


def _from_left(line: list[tuple[QPoint, QWidget]]) -> Iterator[QWidget]:
    yield from (widget for _, widget in sorted(line, key=lambda place: place[0].x()))


def _middle(part: QWidget, widget: QWidget) -> QPoint:
    return widget.mapTo(part, widget.rect().center())


def _takes_tab(widget: QWidget) -> bool:
    tabbed = bool(widget.focusPolicy().value & Qt.FocusPolicy.TabFocus.value)
    return tabbed and widget.objectName() != _VIEWPORT and not widget.isWindow()
