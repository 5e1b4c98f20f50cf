"""The one QApplication: names, words in the user's language, font."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLibraryInfo, QLocale, QTranslator
from PySide6.QtWidgets import QApplication

from app.window.garbage import GarbageTimer
from app.window.looks import choose_font

_TRANSLATIONS: Final = Path(__file__).parent / "translations"
"""`holdsquare_LANGUAGE.qm`, made of the words that `translate` finds in the window's files."""


def application(arguments: Sequence[str]) -> QApplication:
    """Return the program's QApplication, made if there is none yet."""
    known = QApplication.instance()
    if isinstance(known, QApplication):
        return known
    made = QApplication(list(arguments) or ["holdsquare"])
    GarbageTimer(made)
    made.setApplicationName("holdsquare")
    made.setApplicationDisplayName("Holdsquare")
    made.setDesktopFileName("holdsquare")
    choose_font(made)
    _translate(made)
    return made


def _translate(made: QApplication) -> None:
    """Take Qt's own words and the window's in the user's language, as far as there are any."""
    places = (
        ("qtbase", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)),
        ("holdsquare", str(_TRANSLATIONS)),
    )
    for name, folder in places:
        translator = QTranslator(made)
        if translator.load(QLocale.system(), name, "_", folder):
            made.installTranslator(translator)
