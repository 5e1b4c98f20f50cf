"""Has what is being typed taken, as Enter does, before anything is made of the bracket as it stands."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit, QTextEdit, QWidget
from shiboken6 import isValid


def take_typing(window: QWidget) -> None:
    """Take what is typed in this window and not yet entered; the keyboard stays where it is.

    What cannot be taken stays in its cell with its sentence, as when the keyboard goes elsewhere.
    """
    here = QApplication.focusWidget()
    if not isinstance(here, QLineEdit | QPlainTextEdit | QTextEdit) or here.window() is not window:
        return
    here.clearFocus()
    if isValid(here) and here.isVisible():
        here.setFocus()
