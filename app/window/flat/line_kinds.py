"""The kinds of line a drawing is made of, after ISO 128: how thick, and with which dashes.

Widths are pixels, for painting in pixels; `on_the_sheet` makes of one a pen for items in mm. Dashes are
counted in line widths.
"""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from app.theme import Theme

THICK_PX: Final = 2.0
THIN_PX: Final = 1.0
_LONG_DASH_DOT: Final = (18.0, 3.0, 1.5, 3.0)
_LONG_DASH_DOUBLE_DOT: Final = (18.0, 3.0, 1.5, 3.0, 1.5, 3.0)
_DASHED: Final = (6.0, 3.0)
_TICKS: Final = (0.3, 0.5)


def visible_edge(theme: Theme) -> QPen:
    """Return the thick line of edges that are seen."""
    return _pen(theme.ink, THICK_PX)


def weld(theme: Theme) -> QPen:
    """Return the row of ticks, thicker than an edge, of a weld."""
    pen = _pen(theme.ink, 3.0 * THICK_PX, _TICKS)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    return pen


def selected_edge(theme: Theme) -> QPen:
    """Return the heavier line of what is selected."""
    return _pen(theme.accent, 1.6 * THICK_PX)


def pointed_edge(theme: Theme) -> QPen:
    """Return the line of what the pointer is on."""
    return _pen(theme.accent, THICK_PX)


def thin(theme: Theme) -> QPen:
    """Return the thin continuous line of fold lines and leaders."""
    return _pen(theme.ink, THIN_PX)


def dimension_line(theme: Theme) -> QPen:
    """Return the thin line of dimensions."""
    return _pen(theme.pencil, THIN_PX)


def ring(theme: Theme) -> QPen:
    """Return the thin line of what a bolt clamps."""
    return _pen(theme.pencil, THIN_PX)


def centre_line(theme: Theme) -> QPen:
    """Return the long-dashed dotted thin line of centres and axes."""
    return _pen(theme.pencil, THIN_PX, _LONG_DASH_DOT)


def adjacent_part(theme: Theme) -> QPen:
    """Return the long-dashed double-dotted thin line of parts that lie against the plate."""
    return _pen(theme.pencil, THIN_PX, _LONG_DASH_DOUBLE_DOT)


def guide(theme: Theme) -> QPen:
    """Return the dashed line of what would come about if the pointer were pressed now."""
    return _pen(theme.accent, THIN_PX, _DASHED)


def drawn_now(theme: Theme) -> QPen:
    """Return the line of an outline in progress."""
    return _pen(theme.accent, THICK_PX)


def on_the_sheet(pen: QPen, device_px: float) -> QPen:
    """Return a pen for items in mm: as thick at any scale, on a screen of so many dots to a pixel too."""
    cosmetic = QPen(pen)
    cosmetic.setCosmetic(True)
    cosmetic.setWidthF(pen.widthF() * device_px)
    return cosmetic


def _pen(colour: str, width_px: float, dashes: tuple[float, ...] = ()) -> QPen:
    pen = QPen(QColor(colour), width_px)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashes:
        pen.setDashPattern(list(dashes))
    return pen
