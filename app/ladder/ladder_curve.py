"""The ladder as a curve in a picture: what each step holds to, and the couple it has to hold."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import Any, Final

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from app.curve_axes import dress_axes
from app.ladder.rung import Rung
from app.ladder.steps import Ladder
from app.theme import Theme

SIZE_IN: Final = (9.6, 6.0)
DPI: Final = 100.0
_DASHES: Final = ("-", "--", "-.", ":")
_MARKS: Final = {"pass": "o", "marginal": "o", "fail": "x", "no verdict": "|"}
_ONE_BELOW: Final = "no verdict"


def curve_png(ladder: Ladder, rungs: Sequence[Rung], sentence: str, theme: Theme) -> bytes:
    """Return the picture as PNG: along the base the thing with most values, a line for each of the others."""
    figure = Figure(figsize=SIZE_IN, dpi=DPI, facecolor=theme.ground)
    FigureCanvasAgg(figure)
    axes: Any = figure.add_axes((0.09, 0.13, 0.87, 0.68), facecolor=theme.ground)
    along = max(range(len(ladder.varied)), key=lambda k: len(ladder.varied[k].values))
    places = _places(ladder.varied[along].values)
    groups: dict[tuple[str, ...], list[Rung]] = {}
    for rung in rungs:
        groups.setdefault(tuple(v for k, v in enumerate(rung.values) if k != along), []).append(rung)
    for number, (others, members) in enumerate(groups.items()):
        _line(
            axes, [(places[r.values[along]], r) for r in members], _told(ladder, along, others), number, theme
        )
    _couple(axes, ladder, theme)
    _dress(axes, ladder, along, places, theme, several=len(groups) > 1)
    figure.text(0.02, 0.955, sentence, color=theme.ink, fontsize=10, va="top", wrap=True, parse_math=False)
    words = "filled: pass; open: marginal; cross: fail; no verdict: a stroke at the foot"
    figure.text(0.02, 0.02, words, color=theme.pencil, fontsize=10, parse_math=False)
    target = BytesIO()
    figure.savefig(target, format="png", facecolor=theme.ground)
    return target.getvalue()


def _places(values: Sequence[str]) -> dict[str, float]:
    """Return where each value stands along the base: at its own size if all are numbers, else evenly."""
    try:
        return {value: float(value) for value in values}
    except ValueError:
        return {value: float(number) for number, value in enumerate(values)}


def _told(ladder: Ladder, along: int, others: tuple[str, ...]) -> str:
    rest = [one for k, one in enumerate(ladder.varied) if k != along]
    return ", ".join(f"{one.typed} {one.with_unit(value)}" for one, value in zip(rest, others, strict=True))


def _line(axes: Any, members: list[tuple[float, Rung]], label: str, number: int, theme: Theme) -> None:  # noqa: ANN401
    members = sorted(members, key=lambda pair: pair[0])
    known = [(x, r) for x, r in members if r.answer.holds_to_nm is not None]
    dashes = _DASHES[number % len(_DASHES)]
    colour = theme.ink if number < len(_DASHES) else theme.pencil
    axes.plot(
        [x for x, _ in known],
        [r.answer.holds_to_nm for _, r in known],
        dashes,
        color=colour,
        linewidth=1.2,
        label=label or None,
    )
    for x, rung in members:
        verdict = rung.answer.verdict
        height = 0.0 if rung.answer.holds_to_nm is None else rung.answer.holds_to_nm
        axes.plot(
            [x],
            [height],
            _MARKS[verdict],
            color=theme.pencil if verdict == _ONE_BELOW else colour,
            markerfacecolor=colour if verdict == "pass" else theme.ground,
            markersize=8,
            markeredgewidth=1.4,
            zorder=5,
        )


def _couple(axes: Any, ladder: Ladder, theme: Theme) -> None:  # noqa: ANN401
    couple = ladder.bracket.loads.couple
    if couple.value_nm is not None:
        words = f"couple {couple.value_nm:g} N.m, {couple.words}"
        axes.axhline(couple.value_nm, color=theme.accent, linewidth=1.6)
        axes.annotate(
            words, (0.995, couple.value_nm), xycoords=("axes fraction", "data"), xytext=(0, 4),
            textcoords="offset points", ha="right", color=theme.accent, fontsize=9, parse_math=False,
        )  # fmt: skip


def _dress(
    axes: Any,  # noqa: ANN401
    ladder: Ladder,
    along: int,
    places: dict[str, float],
    theme: Theme,
    *,
    several: bool,
) -> None:
    one = ladder.varied[along]
    axes.set_xticks(list(places.values()), [one.with_unit(value) for value in places])
    axes.set_xlabel(f"{one.typed}: {one.key.means}", color=theme.ink, parse_math=False)
    axes.set_ylabel("holds to, N.m", color=theme.ink)
    axes.set_ylim(bottom=0.0)
    axes.margins(x=0.06, y=0.12)
    dress_axes(axes, theme)
    if several:
        legend = axes.legend(frameon=False, labelcolor=theme.ink, fontsize=9)
        for text in legend.get_texts():
            text.set_parse_math(False)
