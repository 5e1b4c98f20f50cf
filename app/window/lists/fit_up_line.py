"""The note of how far the pieces may be off when they come together. No Qt."""

from __future__ import annotations

from typing import Final

from app.window.lists.field import Field, Kind, Line, Piece
from app.window.lists.off_default import off_default
from app.window.lists.setting import FIT_LOOKED_AT
from geometry.bracket import Bracket
from geometry.fit_up import TOLERANCES, FitUp

NOT_LOOKED_AT: Final = "not looked at"
_PIECES: Final[tuple[tuple[str, str, str, Kind, str], ...]] = (
    (": folds within ", "fold_deg", "error of a fold", "quantity", "deg"),
    (", fold lines square within ", "square_deg", "fold line out of square", "quantity", "deg"),
    (", plates flat within ", "flat_deg", "plate out of flat", "quantity", "deg"),
    (", holes in place within ", "hole_mm", "hole out of place", "quantity", "mm"),
    ("; drawn together without a shim up to ", "gap_mm", "gap without a shim", "quantity", "mm"),
    (", with at most ", "preload_share", "share of the preload it may take", "share", ""),
    (" of the preload and ", "bearing_n", "side force on a bearing", "quantity", "N"),
)


def fit_up_line(bracket: Bracket) -> Line:
    """Return the note; its tolerances and limits stand there once it is looked at."""
    fit = bracket.fit_up
    pieces: list[Piece] = [
        "Fit of the pieces: ",
        Field(
            (("fit_up",),),
            "fit of the pieces",
            NOT_LOOKED_AT if fit is None else FIT_LOOKED_AT,
            "choice",
            choices=(FIT_LOOKED_AT, NOT_LOOKED_AT),
        ),
    ]
    if fit is None:
        return Line("fit-up", (*pieces, "."))
    for words, name, spoken, kind, unit in _PIECES:
        value, usual = getattr(fit, name), getattr(FitUp(), name)
        told, looser = off_default(
            value, usual, higher_is_looser=name not in TOLERANCES, share=kind == "share"
        )
        path = ("fit_up", name)
        pieces += [words, Field((path,), f"{spoken}, fit", value, kind, unit, usual=told, looser=looser)]
    return Line("fit-up", (*pieces, " sideways on a bearing."))
