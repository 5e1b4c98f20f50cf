"""The order in which Tab goes through the parts of a page: as they are read, whatever was made last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QWidget

_MOST_WIDGETS = 20_000
"""A chain without an end would hang the window."""


class TabOrder(QObject):
    """Keeps parts in order; within a part its own order stays.

    Rows and notes come and go, and the library puts every new one behind all others.
    """

    def __init__(self, parts: Sequence[QWidget], parent: QObject) -> None:
        super().__init__(parent)
        self._parts = tuple(parts)
        self._soon = QTimer(self, singleShot=True, interval=0)
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
            for stop in list(_stops(part)):
                if before is not None and before.nextInFocusChain() is not stop:
                    QWidget.setTabOrder(before, stop)
                before = stop

    def _forget(self) -> None:
        """Put nothing in order any more: the window goes."""
        self._soon.stop()
        self._parts = ()


def _stops(part: QWidget) -> Iterator[QWidget]:
    """Yield what Tab stops at in a part, in the order it does so."""
    here = part
    for _ in range(_MOST_WIDGETS):
        proxied = here.focusProxy() is not None
        if (here is part or part.isAncestorOf(here)) and _takes_tab(here) and not proxied:
            yield here
        following = here.nextInFocusChain()
        if following is None or following is part:
            return
        here = following


def _takes_tab(widget: QWidget) -> bool:
    return bool(widget.focusPolicy().value & Qt.FocusPolicy.TabFocus.value)
