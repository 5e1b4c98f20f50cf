"""How evenly the shaft runs over one turn, and what slides in a crash, as one picture."""

from __future__ import annotations

from io import BytesIO
from typing import Any, Final

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from app.curve_axes import dress_axes
from app.theme import Theme
from geometry.bracket import Bracket
from geometry.installation import Collapse, ShaftLine, ShaftPart
from geometry.shaft_line import ShaftLineError, bent_joints
from solver.around.collapse import casing_stations_mm
from solver.around.ripple import chain_map, speed_ratio
from solver.around.shaft_joints import Ripple, ripple_of

SIZE_IN: Final = (9.6, 6.4)
DPI: Final = 100.0
_MOVES: Final = {"slides": "slides", "fixed": "stays", None: "blank"}


def around_png(bracket: Bracket, theme: Theme) -> bytes:
    """Return the picture as PNG; what is blank is said where it would be drawn."""
    figure = Figure(figsize=SIZE_IN, dpi=DPI, facecolor=theme.ground)
    FigureCanvasAgg(figure)
    _title(figure, 0.965, "Speed of the far end over the wheel's, one turn of the wheel", theme)
    upper: Any = figure.add_axes((0.08, 0.57, 0.88, 0.35), facecolor=theme.ground)
    _ripple(upper, bracket.installation.shaft, theme)
    _title(figure, 0.44, "Along the shaft: what slides in a crash, what stays, what the bracket grips", theme)
    lower: Any = figure.add_axes((0.08, 0.1, 0.88, 0.3), facecolor=theme.ground)
    _strip(lower, bracket, theme)
    target = BytesIO()
    figure.savefig(target, format="png", facecolor=theme.ground)
    return target.getvalue()


def _title(figure: Figure, height: float, words: str, theme: Theme) -> None:
    figure.text(0.02, height, words, color=theme.ink, fontsize=11, va="top", parse_math=False)


def _ripple(axes: Any, line: ShaftLine | None, theme: Theme) -> None:  # noqa: ANN401
    try:
        ripple = None if line is None else ripple_of(line)
    except ShaftLineError as error:
        return _blank(axes, str(error), theme)
    if line is None or ripple is None:
        return _blank(axes, "blank: angles, planes or phases of the shaft joints are not all known", theme)
    turned = np.linspace(0.0, 360.0, 721)
    ratio = speed_ratio(ripple.whole, turned)
    worst = max(bent_joints(line), key=lambda joint: joint.angle_deg or 0.0)
    alone = speed_ratio(chain_map([worst.angle_deg or 0.0], []), turned)
    axes.axhspan(1.0 - line.most_ripple, 1.0 + line.most_ripple, color=theme.plate, zorder=0)
    axes.plot(turned, alone, "--", color=theme.pencil, linewidth=1.0)
    axes.plot(turned, ratio, color=theme.ink, linewidth=1.8)
    dress_axes(axes, theme, grid="x")
    axes.set_xticks(range(0, 361, 45))
    axes.set_xlim(0.0, 360.0)
    reach = max(ripple.high, float(alone.max()), 1.0 + line.most_ripple) - 1.0
    axes.set_ylim(1.0 - 1.25 * reach, 1.0 + 1.55 * reach)
    axes.set_xlabel("wheel turned, deg", color=theme.ink)
    axes.text(
        0.01, 0.97, _ripple_words(ripple, line, worst.name, worst.angle_deg or 0.0), color=theme.ink,
        fontsize=9, va="top", transform=axes.transAxes, parse_math=False,
    )  # fmt: skip
    return None


def _ripple_words(ripple: Ripple, line: ShaftLine, worst: str, angle: float) -> str:
    return (
        f"line: all joints together, {ripple.low:.3f} to {ripple.high:.3f}, as one joint at"
        f" {ripple.equivalent_deg:.1f} deg; dashes: joint {worst} alone at {angle:.1f} deg;"
        f" pale band: within {line.most_ripple:.0%}"
    )


def _strip(axes: Any, bracket: Bracket, theme: Theme) -> None:  # noqa: ANN401
    collapse = bracket.installation.collapse
    if collapse is None or not collapse.parts:
        return _blank(axes, "blank: no part of column or shaft is listed", theme)
    for row, part in enumerate(collapse.parts):
        _part(axes, part, len(collapse.parts) - row, theme)
    if bracket.casing is not None:
        low, high = casing_stations_mm(bracket.casing)
        _bar(axes, (low, high), 0.0, theme, hatch="")
        axes.text(0.5 * (low + high), 0.0, "casing", color=theme.ink, fontsize=9, ha="center", va="center")
    _travel(axes, collapse, theme)
    dress_axes(axes, theme, grid="x")
    axes.set_ylim(-0.7, len(collapse.parts) + 0.9)
    axes.set_yticks([])
    axes.spines["left"].set_visible(False)
    axes.margins(x=0.04)
    axes.set_xlabel("station along the shaft, mm, toward the driver", color=theme.ink)
    return None


def _part(axes: Any, part: ShaftPart, row: float, theme: Theme) -> None:  # noqa: ANN401
    low, high = sorted(part.stations_mm)
    bridged = part.moves == "slides" and part.held_by_bracket == "yes"
    _bar(axes, (low, high), row, theme, hatch="////" if bridged else "", over=bridged)
    held = {"yes": "gripped", "no": "not gripped", None: "gripped or not: blank"}[part.held_by_bracket]
    words = f"{part.name}: {_MOVES[part.moves]}, {held}"
    if bridged:
        words += " - BRIDGED"
    axes.text(
        0.5 * (low + high), row, words, color=theme.ink, fontsize=9, ha="center", va="center",
        parse_math=False, bbox={"facecolor": theme.ground, "edgecolor": "none", "pad": 1.5},
    )  # fmt: skip
    if part.moves == "slides":
        axes.annotate(
            "",
            (low - 0.12 * (high - low), row),
            (low, row),
            arrowprops={"arrowstyle": "->", "color": theme.ink},
        )


def _bar(
    axes: Any,  # noqa: ANN401
    stations: tuple[float, float],
    row: float,
    theme: Theme,
    *,
    hatch: str,
    over: bool = False,
) -> None:
    low, high = stations
    axes.add_patch(
        Rectangle(
            (low, row - 0.32), high - low, 0.64, facecolor=theme.map_over if over else theme.plate,
            edgecolor=theme.ink, linewidth=1.0, hatch=hatch,
        )
    )  # fmt: skip
    axes.update_datalim([(low, row), (high, row)])


def _travel(axes: Any, collapse: Collapse, theme: Theme) -> None:  # noqa: ANN401
    def told(value: float | None) -> str:
        return "blank" if value is None else f"{value:g} mm"

    words = f"travel left: {told(collapse.travel_mm)}; in the donor: {told(collapse.donor_travel_mm)}"
    axes.text(0.01, 0.98, words, color=theme.ink, fontsize=9, va="top", transform=axes.transAxes)


def _blank(axes: Any, words: str, theme: Theme) -> None:  # noqa: ANN401
    axes.set_xticks([])
    axes.set_yticks([])
    for side in axes.spines.values():
        side.set_color(theme.faint)
    axes.text(
        0.5, 0.5, words, color=theme.pencil, fontsize=10, style="italic", ha="center", va="center", wrap=True,
        transform=axes.transAxes, parse_math=False,
    )  # fmt: skip
