"""How the sheet is looked at: what laying out its marks needs to know of the view."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont, QTransform

from app.window.flat.dimension_layout import ToPx


@dataclass(frozen=True)
class Look:
    """How the sheet is looked at."""

    to_px: ToPx
    transform: QTransform
    """The same for paths."""
    px_per_mm: float
    size: QRectF
    """The viewport."""
    font: QFont
    inch: bool
    mm_per_screen_px: float
    """For the scale that is written; 0 if unknown."""
