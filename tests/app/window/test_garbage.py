"""Rings of widgets are taken apart in the window's own thread, and in no other."""

from __future__ import annotations

import gc
import threading
import weakref

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.window import garbage
from app.window.garbage import GarbageTimer


class _Ring(QWidget):
    """Holds itself, and tells in which thread it went."""

    def __init__(self, went: list[str]) -> None:
        super().__init__()
        self.itself = self
        weakref.finalize(self, lambda: went.append(threading.current_thread().name))


def test_a_ring_goes_in_the_windows_thread(qtbot: QtBot) -> None:
    parent, went = QObject(), list[str]()
    timer = GarbageTimer(parent)
    assert not gc.isenabled()
    _Ring(went)
    # much is made in another thread meanwhile: with the collector on, it would run there
    other = threading.Thread(target=lambda: [[i] for i in range(200_000)])
    other.start()
    other.join()
    assert went == []
    for _ in range(garbage.WHOLE_EVERY):
        timer.collect()
    assert went == ["MainThread"]
