"""How the axes of every curve look: two spines in ink, a faint grid below what is drawn."""

from __future__ import annotations

from typing import Any, Literal

from app.theme import Theme


def dress_axes(
    axes: Any,  # noqa: ANN401 - of a library that only the files with curves in them ask for
    theme: Theme,
    *,
    grid: Literal["both", "x"] = "both",
    size_pt: float | None = None,
) -> None:
    """Dress axes in a theme; `grid` is across which of them lines run, `size_pt` the size of the figures."""
    axes.tick_params(colors=theme.ink, **({} if size_pt is None else {"labelsize": size_pt}))
    axes.grid(axis=grid, color=theme.faint, linewidth=0.6)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(theme.ink)
