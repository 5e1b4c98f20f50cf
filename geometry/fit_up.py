"""How far the pieces may be off when they come together, and what that may cost.

Glossary
--------
fit-up        putting the pieces together: bolts drawn up by hand first, free to slide in their holes, then
              tightened
"""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import Field

from geometry.part import Part, Positive


class FitUp(Part):
    """Tolerances and limits of the fit; the defaults are common practice, without a source but where said."""

    fold_deg: Annotated[float, Field(ge=0, le=10)] = 1.0
    """How far the angle of each fold may be off."""
    square_deg: Annotated[float, Field(ge=0, le=10)] = 0.5
    """How far each fold line may be out of square with the holes."""
    flat_deg: Annotated[float, Field(ge=0, le=10)] = 0.5
    """How far a plate's places at the casing and its other places may be twisted or bowed out of one flat. Of
    a plate with none at the casing, its places at another plate and the rest."""
    hole_mm: Annotated[float, Field(ge=0, le=10)] = 0.3
    """How far each hole may be off its place in the plate."""
    gap_mm: Positive = 1.0
    """Gap that may be drawn together without a shim: 1 mm with preloaded bolts (EN 1090-2, from memory)."""
    preload_share: Annotated[float, Field(gt=0, le=1)] = 0.2
    """Share of a bolt's lowest preload that drawing together may take."""
    bearing_n: Positive = 100.0
    """Side force on a bearing of the column above which the steering may bind."""

    def looser(self) -> dict[str, tuple[float, float]]:
        """Return every tolerance smaller, and every limit higher, than is usual as words: (value, usual)."""
        usual = FitUp()
        found = {}
        for name, words in FIT_UP_WORDS.items():
            value, default = getattr(self, name), getattr(usual, name)
            if (value < default) if name in TOLERANCES else (value > default):
                found[words] = (value, default)
        return found


TOLERANCES: Final = ("fold_deg", "square_deg", "flat_deg", "hole_mm")
FIT_UP_WORDS: Final = {
    "fold_deg": "error of a fold, deg",
    "square_deg": "fold line out of square, deg",
    "flat_deg": "plate out of flat, deg",
    "hole_mm": "hole out of place, mm",
    "gap_mm": "gap drawn together without a shim, mm",
    "preload_share": "share of preload that drawing together may take",
    "bearing_n": "side force on a bearing from the fit, N",
}
