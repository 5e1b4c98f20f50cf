"""Words over the picture: balloons, pinned labels, a caption, where the driver is."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from app.mounted.camera import Camera
from app.mounted.overlay import Disc, Item, Path, Words
from app.mounted.shapes import Floats, Mark
from app.mounted.surroundings import wheel_lines
from app.theme import Theme

BALLOON_PX: Final = 10.0
WORDS_PX: Final = 12.0
SMALL_PX: Final = 10.5
LETTER_SHARE: Final = 0.6
"""Width of a letter as a share of its size, about."""
LONGEST_NAME: Final = 8
LINE_PX: Final = 16.0
"""From one line of words to the next."""
MOST_WORDS: Final = 0.16
"""Share of the picture's height that words at the top may take."""
RIM_PX: Final = 24.0
_TURNS: Final = np.radians([0, 20, -20, 40, -40, 60, -60, 85, -85, 110, -110, 140, -140, 180])
_REACHES: Final = np.array([34.0, 50.0, 70.0, 95.0, 125.0])


@dataclass(frozen=True, eq=False)
class Placed:
    """A mark and where it is in the picture."""

    mark: Mark
    x_px: float
    y_px: float


@dataclass
class BalloonLayout:
    """Where balloons stand beside their bolts, so that they keep still while the picture moves."""

    offsets: dict[str, tuple[float, float]] = field(default_factory=dict)

    def settle(
        self,
        placed: Sequence[Placed],
        size_px: tuple[int, int],
        clear_of: Floats,
        top_px: float,
        *,
        anew: bool,
    ) -> None:
        """Find a place for every balloon in the picture; unless `anew`, only if one has none yet.

        Balloons stand clear of places (n, 2) in the picture, and of the top of it.
        """
        inside = _inside(placed, size_px)
        if anew or any(p.mark.name not in self.offsets for p in inside):
            self.offsets = _layout(inside, size_px, clear_of, top_px)


def balloons(
    placed: Sequence[Placed], camera: Camera, theme: Theme, layout: BalloonLayout, selected: str
) -> list[Item]:
    """Return a balloon for each bolt in the picture, with a line from its head."""
    inside = _inside(placed, camera.size_px)
    lines: list[Item] = []
    discs: list[Item] = []
    for p in inside:
        dx, dy = layout.offsets[p.mark.name]
        x, y = p.x_px + dx, p.y_px + dy
        heavy = p.mark.name == selected
        colour = theme.accent if heavy else theme.ink
        words = _short(p.mark.words)
        half = max(BALLOON_PX, 0.5 * LETTER_SHARE * WORDS_PX * len(words) + 4.0)
        lines.append(Path(np.array([[p.x_px, p.y_px], [x, y]]), 1.8 if heavy else 0.9, colour))
        lines.append(Disc(p.x_px, p.y_px, 1.8, 1.8, 0.5, colour, colour))
        discs.append(Disc(x, y, half, BALLOON_PX, 2.4 if heavy else 1.1, colour, theme.ground))
        discs.append(Words(words, x, y, WORDS_PX, theme.ink))
    return lines + discs


def pinned(places: Sequence[tuple[float, float, str]], theme: Theme) -> list[Item]:
    """Return a flag for each pinned label."""
    items: list[Item] = []
    for x, y, words in places:
        half = 0.5 * LETTER_SHARE * SMALL_PX * len(words) + 6.0
        items += [
            Path(np.array([[x, y], [x + 14.0, y - 22.0]]), 1.0, theme.ink),
            Disc(x, y, 2.2, 2.2, 0.8, theme.ink, theme.ink),
            Disc(x + 14.0 + half, y - 22.0, half, 9.0, 1.0, theme.ink, theme.entry),
            Words(words, x + 14.0 + half, y - 22.0, SMALL_PX, theme.ink),
        ]
    return items


def driver_rim(camera: Camera, theme: Theme) -> list[Item]:
    """Return the wheel rim in the corner that says where the driver is, with a piece of shaft behind it."""
    width, height = camera.size_px
    middle = np.array([width - 1.6 * RIM_PX - 6.0, height - 1.6 * RIM_PX - 12.0])
    lines = wheel_lines(2.0) * RIM_PX
    shaft = np.array([[[0.0, 0.0, 0.0], [0.0, 0.0, -1.4 * RIM_PX]]])
    flat = np.concatenate([lines, shaft]) @ camera.axes[:2].T * np.array([1.0, -1.0]) + middle
    items: list[Item] = [Path(piece, 1.0, theme.pencil) for piece in flat]
    return [*items, Words("driver", float(middle[0]), height - 10.0, SMALL_PX, theme.pencil)]


LETTER_PX: Final = 6.2
"""Across, of the letters of a caption in the mean of a long line."""
CAPTION_LEFT_PX: Final = 12.0


def words_with_room(words: str, size_px: tuple[int, int]) -> str:
    """Return the words there is room for: a small picture has only the first of them.

    A narrow one has long lines in two; one that has not room to its end is left out.
    """
    across = max(12, int((size_px[0] - CAPTION_LEFT_PX) / LETTER_PX))
    most = max(1, int(size_px[1] * MOST_WORDS / LINE_PX))
    found: list[str] = []
    for line in words.splitlines():
        parts = textwrap.wrap(line, across)
        if found and len(found) + len(parts) > most:
            break
        found += parts[:most]
    return "\n".join(found)


def caption(words: str, theme: Theme, *, italic: bool) -> list[Item]:
    """Return the words at the top of the picture."""
    return [
        Words(
            line,
            CAPTION_LEFT_PX,
            14.0 + LINE_PX * number,
            WORDS_PX,
            theme.pencil,
            across="left",
            ground=theme.ground,
            italic=italic,
        )
        for number, line in enumerate(words.splitlines())
    ]


def _inside(placed: Sequence[Placed], size_px: tuple[int, int]) -> list[Placed]:
    width, height = size_px
    return [p for p in placed if -5.0 <= p.x_px <= width + 5.0 and -5.0 <= p.y_px <= height + 5.0]


def _short(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME - 1] + "…"


def _layout(
    placed: Sequence[Placed], size_px: tuple[int, int], clear_of: Floats, top_px: float
) -> dict[str, tuple[float, float]]:
    """Return an offset for each balloon: outward from the middle of all, clear of the others and of bolts."""
    if not placed:
        return {}
    anchors = np.array([[p.x_px, p.y_px] for p in placed])
    middle = anchors.mean(axis=0)
    order = np.argsort(-np.linalg.norm(anchors - middle, axis=1))
    found: dict[str, tuple[float, float]] = {}
    stood = np.zeros((0, 2))
    lines = np.zeros((0, 2, 2))
    for number in order:
        at = anchors[number]
        out = at - middle
        base = np.arctan2(out[1], out[0]) if np.hypot(*out) > 1.0 else -np.pi / 2.0
        angle = (base + _TURNS)[:, None]
        tries = np.stack([np.cos(angle) * _REACHES, np.sin(angle) * _REACHES], axis=2).reshape(-1, 2) + at
        cost = (np.abs(_TURNS)[:, None] * 9.0 + _REACHES * 0.35).ravel()
        others = np.concatenate([np.delete(anchors, number, axis=0), clear_of])
        cost = cost + _crowding(tries, at, others, stood, lines)
        margin = BALLOON_PX + 4.0
        off = np.maximum(np.array([margin, margin + top_px]) - tries, 0.0).sum(axis=1)
        off += np.maximum(tries - (np.array(size_px) - margin), 0.0).sum(axis=1)
        best = tries[int(np.argmin(cost + 20.0 * off))]
        found[placed[number].mark.name] = (float(best[0] - at[0]), float(best[1] - at[1]))
        stood = np.vstack([stood, best])
        lines = np.concatenate([lines, np.array([[at, best]])])
    return found


def _crowding(tries: Floats, at: Floats, bolts: Floats, stood: Floats, lines: Floats) -> Floats:
    """Return what is wrong with each place (t,): on other bolts, on balloons, its line across others."""
    cost = np.zeros(len(tries))
    for other, clear in ((bolts, 1.9 * BALLOON_PX), (stood, 2.5 * BALLOON_PX)):
        if len(other):
            gaps = np.linalg.norm(tries[:, None] - other[None], axis=2)
            cost += (np.maximum(clear - gaps, 0.0) * 12.0).sum(axis=1)
    for start, end in lines:
        cost += 60.0 * _cross(at, tries, start, end)
    return cost


def _cross(at: Floats, tries: Floats, start: Floats, end: Floats) -> Floats:
    """Return 1 for each line from `at` to a try that crosses the piece from start to end."""

    def side(a: Floats, b: Floats, p: Floats) -> Floats:
        return np.asarray(
            (b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1])
            - (b[..., 1] - a[..., 1]) * (p[..., 0] - a[..., 0])
        )

    apart = side(start, end, at) * side(start, end, tries) < 0.0
    return (apart & (side(at, tries, start) * side(at, tries, end) < 0.0)).astype(float)
