"""How all widgets look: the sheet's own colours, fonts and borders in place of the system's."""

from __future__ import annotations

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication

from app.theme import Theme

_POINTS = 9.0


def dress(application: QApplication, theme: Theme) -> None:
    """Give the whole program one look."""
    style = _style(theme)
    # every widget is polished anew by it, so not without need
    if application.styleSheet() != style:
        if application.style().objectName().casefold() != "fusion":
            application.setStyle("Fusion")
        application.setPalette(palette(theme))
        application.setStyleSheet(style)


def choose_font(application: QApplication) -> None:
    """Take a plain upright face that is there; the size follows the system's scale."""
    font = QFont(application.font())
    font.setFamilies(["DejaVu Sans", "Noto Sans", "Segoe UI", "Helvetica Neue", "Arial"])
    font.setPointSizeF(_POINTS)
    application.setFont(font)


def palette(theme: Theme) -> QPalette:
    """Return Qt's palette in the theme's colours."""
    made = QPalette()
    role = QPalette.ColorRole
    for name, colour in {
        role.Window: theme.ground,
        role.Base: theme.ground,
        role.AlternateBase: theme.plate,
        role.Button: theme.plate,
        role.WindowText: theme.ink,
        role.Text: theme.ink,
        role.ButtonText: theme.ink,
        role.PlaceholderText: theme.pencil,
        role.ToolTipBase: theme.entry,
        role.ToolTipText: theme.ink,
        role.Highlight: theme.accent,
        role.HighlightedText: theme.ground,
        role.Link: theme.accent,
        role.Mid: theme.faint,
        role.Dark: theme.pencil,
        role.Light: theme.plate,
    }.items():
        made.setColor(name, QColor(colour))
    for name in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, name, QColor(theme.pencil))
    return made


def _style(look: Theme) -> str:
    return f"""
    QMenuBar {{ background: {look.ground}; color: {look.ink}; padding: 3px 8px; }}
    QMenuBar::item {{ padding: 4px 10px; background: transparent; }}
    QMenuBar::item:selected {{ background: {look.plate_back}; }}
    QMenuBar::item:disabled {{ color: {look.pencil}; }}
    QMenu {{ background: {look.ground}; color: {look.ink}; border: 1px solid {look.ink}; padding: 4px; }}
    QMenu::item {{ padding: 4px 22px 4px 22px; }}
    QMenu::item:selected {{ background: {look.plate_back}; color: {look.ink}; }}
    QMenu::item:disabled {{ color: {look.pencil}; }}
    QMenu::separator {{ height: 1px; background: {look.faint}; margin: 4px 8px; }}
    QToolTip {{ background: {look.entry}; color: {look.ink}; border: 1px solid {look.ink}; padding: 3px; }}
    """
