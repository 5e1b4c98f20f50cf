"""A rig's log as a picture: the couple over time, or movement over couple with the foretold band."""

from __future__ import annotations

import math
from io import BytesIO
from itertools import pairwise
from typing import Any, Final

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from numpy.typing import NDArray

from app.curve_axes import dress_axes
from app.riglog.bracket_log import BracketLog
from app.riglog.couple_log import CoupleLog
from app.riglog.predicted import PredictedBand
from app.riglog.reading import Floats
from app.theme import Theme
from app.wording.lash_words import lash_words

SIZE_IN: Final = (9.6, 6.0)
DPI: Final = 100.0
_MOST_POINTS: Final = 6000


def couple_png(found: CoupleLog, sentence: str, theme: Theme) -> bytes:
    """Return the couple over time and, where both were read, torque meters against load cell."""
    figure = _sheet(sentence, theme)
    both = found.cell_nm is not None and found.agreement is not None
    above = _axes(figure, (0.08, 0.53 if both else 0.12, 0.89, 0.38 if both else 0.79), theme)
    along = found.log.of["time"] if found.log.has("time") else np.arange(len(found.couple_nm), dtype=float)
    rows = _thinned(found.couple_nm)
    slow = found.slow[rows]
    above.plot(
        along[rows], np.where(slow, found.couple_nm[rows], np.nan), "-", color=theme.ink, linewidth=1.1
    )
    fast = rows[~slow]
    above.plot(along[fast], found.couple_nm[fast], ".", color=theme.accent, markersize=2.5)
    above.axhline(0.0, color=theme.faint, linewidth=0.8)
    height = found.highest.couple_nm
    for side in (-height, height):
        above.axhline(side, color=theme.pencil, linewidth=0.9, linestyle=(0, (8, 4)))
    above.annotate(
        f"{height:.3g} N.m", (0.005, height), xycoords=("axes fraction", "data"), xytext=(0, 3),
        textcoords="offset points", color=theme.pencil, fontsize=9,
    )  # fmt: skip
    above.set_ylim(-1.3 * height, 1.3 * height)
    above.set_xlabel("time, s" if found.log.has("time") else "row", color=theme.ink)
    above.set_ylabel("couple, N.m", color=theme.ink)
    if both and found.cell_nm is not None:
        _against(figure, found, found.cell_nm, theme)
    how = (
        "line: slow rows, judged; dots: fast rows, shown apart"
        if found.fast_known
        else "no fast rows told apart"
    )
    _foot(figure, how, theme)
    return _png(figure, theme)


def bracket_png(
    found: BracketLog,
    sentence: str,
    theme: Theme,
    band: PredictedBand | None = None,
    gauge_arm_mm: float | None = None,
) -> bytes:
    """Return movement over couple: the points, the two fitted lines, and the foretold band if any."""
    figure = _sheet(sentence, theme)
    axes = _axes(figure, (0.1, 0.13, 0.87, 0.78), theme)
    rows = _thinned(found.movement)
    moved = found.movement - found.middle
    edge = float(np.nanmax(np.abs(found.couple_nm)))
    reach = 1.25 * float(np.nanmax(np.abs(moved)))
    half = (found.dead_band or 0.0) / 2.0
    couple = np.linspace(-edge, edge, 400)  # even: none stands at nought, where the band changes side
    if band is not None:
        per_deg = 1.0 if found.along == "angle" else _mm_per_deg(gauge_arm_mm)
        _band(axes, band, couple, per_deg, half, reach, theme)
    axes.plot(found.couple_nm[rows], moved[rows], ".", color=theme.pencil, markersize=2.5, alpha=0.7)
    for side in (1.0, -1.0) if half else (1.0,):
        until = edge if not half else found.crossing_nm or 0.0
        shown = couple * side >= -until
        line = couple[shown] / found.stiffness + side * half
        axes.plot(couple[shown], line, "-", color=theme.ink, linewidth=1.4)
    axes.set_xlim(-1.05 * edge, 1.05 * edge)
    axes.set_ylim(-reach, reach)
    axes.set_xlabel("couple, N.m", color=theme.ink)
    axes.set_ylabel(f"{found.along} from its middle, {found.unit}", color=theme.ink)
    lines = "lines: fitted, a dead band apart" if half else "line: fitted"
    _foot(figure, f"dots: read; {lines}" + _shaded(band), theme)
    return _png(figure, theme)


def _band(
    axes: Any,  # noqa: ANN401
    band: PredictedBand,
    couple: Floats,
    per_deg: float,
    half: float,
    reach: float,
    theme: Theme,
) -> None:
    """Shade where the hard lines are foretold, past the measured dead band, and the lash's edge if near."""
    least, most = (edge * per_deg for edge in band.stiffness_deg(couple))
    shift = np.sign(couple) * half
    for edge in (least, most):
        edge += shift
        np.clip(edge, -2.0 * reach, 2.0 * reach, out=edge)
    axes.fill_between(couple, least, most, color=theme.map_low, linewidth=0.0, zorder=0.5)
    for edge in (least, most):
        for side in (couple < 0, couple > 0):
            axes.plot(couple[side], edge[side], color=theme.accent, linewidth=1.0, linestyle=(0, (6, 3)))
    lash = band.lash_deg / 2.0 * per_deg
    if lash < reach:
        for height in (-lash, lash):
            axes.axhline(height, color=theme.accent, linewidth=1.0, linestyle=(0, (2, 3)))


def _shaded(band: PredictedBand | None) -> str:
    if band is None:
        return ""
    lash = lash_words(band.lash_deg)
    return f"; shaded: stiffness foretold, stuck to slipped, past the dead band; lash if bolts slip: {lash}"


def _mm_per_deg(gauge_arm_mm: float | None) -> float:
    return math.radians(1.0) * (gauge_arm_mm or 0.0)


def _against(figure: Figure, found: CoupleLog, cell: Floats, theme: Theme) -> None:
    rows = _thinned(found.couple_nm)
    slow, fast = rows[found.slow[rows]], rows[~found.slow[rows]]
    left = _axes(figure, (0.08, 0.12, 0.39, 0.3), theme)
    right = _axes(figure, (0.58, 0.12, 0.39, 0.3), theme)
    apart = found.couple_nm - cell
    edge = float(np.nanmax(np.abs(cell)))
    left.plot([-edge, edge], [-edge, edge], color=theme.pencil, linewidth=0.9, linestyle=(0, (8, 4)))
    for axes, values in ((left, found.couple_nm), (right, apart)):
        axes.plot(cell[fast], values[fast], ".", color=theme.accent, markersize=2.0)
        axes.plot(cell[slow], values[slow], ".", color=theme.ink, markersize=1.5)
        axes.set_xlabel("force x arm, N.m", color=theme.ink)
    right.axhline(0.0, color=theme.pencil, linewidth=0.9, linestyle=(0, (8, 4)))
    left.set_ylabel("output - input, N.m", color=theme.ink)
    right.set_ylabel("residual, N.m", color=theme.ink)


def _thinned(values: Floats) -> NDArray[np.intp]:
    """Return rows few enough to draw, the least and the most of every stretch among them."""
    if len(values) <= _MOST_POINTS:
        return np.arange(len(values))
    edges = np.linspace(0, len(values), _MOST_POINTS // 2 + 1).astype(int)
    filled = np.nan_to_num(values)
    kept = [
        start + pick(filled[start:end]) for start, end in pairwise(edges) for pick in (np.argmin, np.argmax)
    ]
    return np.unique(np.array(kept))


def _sheet(sentence: str, theme: Theme) -> Figure:
    figure = Figure(figsize=SIZE_IN, dpi=DPI, facecolor=theme.ground)
    FigureCanvasAgg(figure)
    figure.text(0.02, 0.965, sentence, color=theme.ink, fontsize=10, va="top", wrap=True, parse_math=False)
    return figure


def _axes(figure: Figure, place: tuple[float, float, float, float], theme: Theme) -> Any:  # noqa: ANN401
    axes: Any = figure.add_axes(place, facecolor=theme.ground)
    dress_axes(axes, theme, size_pt=8.0)
    return axes


def _foot(figure: Figure, words: str, theme: Theme) -> None:
    figure.text(0.02, 0.015, words, color=theme.pencil, fontsize=9, parse_math=False)


def _png(figure: Figure, theme: Theme) -> bytes:
    target = BytesIO()
    figure.savefig(target, format="png", facecolor=theme.ground)
    return target.getvalue()
