"""The memory of a factorisation: panels that stay, and what is left of pieces for as long as it is needed."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from queue import SimpleQueue

import numpy as np
from numpy.typing import NDArray

from solver.cores import CORES
from solver.dissection import Dissection
from solver.piece_threads import thread_level

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Fronts:
    """The front of each piece: the nodes it owns, then those of its rim."""

    def __init__(self, plan: Dissection, rims: list[Ints]) -> None:
        """Take the order of elimination, and each piece's rim."""
        self._plan = plan
        self.own = np.diff(plan.starts)
        self.rim = np.array([len(rim) for rim in rims])
        self._before = np.cumsum(self.rim) - self.rim
        self._stride = plan.node_count + 1 + max((int(rim[-1]) for rim in rims if len(rim)), default=0)
        self._places = np.concatenate(rims)
        self._keys = self._places + np.repeat(np.arange(len(rims)) * self._stride, self.rim)

    def rows(self, piece: Ints, place: Ints) -> Ints:
        """Return where nodes stand in the fronts of pieces that have them, all (m,).

        A place beyond those of the plan is a border node's.
        """
        row = place - self._plan.starts[piece]
        outside = np.flatnonzero(place >= self._plan.starts[piece + 1])
        into = piece[outside]
        found = np.searchsorted(self._keys, into * self._stride + place[outside])
        row[outside] = found - self._before[into] + self.own[into]
        return np.asarray(row)

    def runs(self) -> list[list[tuple[int, int, int]]]:
        """Return, of each piece, the runs of its rim that stand together in the front of the next larger one.

        A run is its first unknown in the rim, the one after its last, and where the first goes. None goes
        partly to nodes that are owned there and partly to others.
        """
        count = len(self.own)
        whole = np.full(count, -1, dtype=np.int64)
        halves = self._plan.children
        parts = np.flatnonzero(halves[:, 0] >= 0)
        whole[halves[parts]] = parts[:, None]
        piece = np.repeat(np.arange(count), self.rim)
        inner = np.flatnonzero(whole[piece] >= 0)
        piece, number = piece[inner], inner - self._before[piece[inner]]
        into = whole[piece]
        row = self.rows(into, self._places[inner])
        owned = row < self.own[into]
        goes_on = (piece[1:] == piece[:-1]) & (row[1:] == row[:-1] + 1) & (owned[1:] == owned[:-1])
        first = (
            np.flatnonzero(np.concatenate([[True], ~goes_on])) if len(row) else np.zeros(0, dtype=np.int64)
        )
        last = np.append(first, len(row))[1:] - 1
        found = list(
            zip(
                (3 * number[first]).tolist(),
                (3 * number[last] + 3).tolist(),
                (3 * row[first]).tolist(),
                strict=True,
            )
        )
        ends = np.searchsorted(piece[first], np.arange(count + 1)).tolist()
        return [found[a:b] for a, b in itertools.pairwise(ends)]


class Panels:
    """The panels of all pieces: rows of a piece's own unknowns, then of its rim's; columns of its own."""

    def __init__(self, plan: Dissection, fronts: Fronts) -> None:
        """Make room for all panels, still zero, in one stretch of memory."""
        self._plan, self._fronts = plan, fronts
        self._own, self._rows = fronts.own, 3 * (fronts.own + fronts.rim)
        self._first = np.concatenate([[0], np.cumsum(3 * self._own * self._rows)])
        # numpy asks for large pages: taking memory in small ones takes far longer.
        self._room = np.zeros(int(self._first[-1]))

    def __getitem__(self, piece: int) -> Floats:
        """Return the panel of a piece, column-major."""
        here = self._room[self._first[piece] : self._first[piece + 1]]
        return here.reshape((self._rows[piece], 3 * self._own[piece]), order="F")

    def fill(self, parts: Iterable[tuple[Ints, Ints, Floats]]) -> None:
        """Put blocks into the lower triangles: their rows (m,), columns (m,) and values (m, 3, 3).

        A block belongs to the piece that owns the place of its row; columns are places eliminated with that
        or after it, or border nodes. None may come twice.
        """
        plan = self._plan
        piece = np.repeat(np.arange(len(self._own)), self._own)
        start = self._first[piece] + 3 * (np.arange(plan.node_count) - plan.starts[piece]) * self._rows[piece]
        for rows, columns, values in parts:
            at = start[rows] // 3 + self._fronts.rows(piece[rows], columns)
            leading = self._rows[piece][rows] // 3
            # A column of a block is three numbers in a row, whose place is a multiple of three.
            by_threes, lines = self._room.view(_THREE), values.reshape(-1, 9).view(_THREE)
            for line in range(3):
                by_threes[at + line * leading] = lines[:, line]


_THREE = np.dtype((np.void, 3 * np.dtype(np.float64).itemsize))


class Remainders:
    """The memory for what is left of each piece: pieces that are never alive together share it.

    A subtree is worked through by one thread, halves before wholes, so that of each level below its root only
    two pieces are alive at a time: one that waits for its other half, and that half. Each thread has room for
    one subtree, and takes it along to the next.
    """

    def __init__(self, plan: Dissection, rims: list[Ints]) -> None:
        """Make room."""
        self._sizes = np.array([3 * len(rim) for rim in rims])
        level, index = plan.level_and_index()
        self._within = level > thread_level(plan)
        self._key = 2 * level + (index & 1)
        largest = np.zeros(2 * plan.depth + 2, dtype=np.int64)
        np.maximum.at(largest, self._key[self._within], self._sizes[self._within] ** 2)
        # Zero, though lower triangles are written whole: what is left above them is added up too, never read.
        self._free: SimpleQueue[list[Floats]] = SimpleQueue()
        for _ in range(CORES):
            self._free.put([np.zeros(size) for size in largest])
        self._own = {
            piece: np.zeros(int(self._sizes[piece]) ** 2) for piece in np.flatnonzero(~self._within).tolist()
        }

    @contextmanager
    def room(self) -> Iterator[Callable[[int], Floats]]:
        """Give one thread what returns the lower triangle of each piece it works through, and its halves'."""
        rooms = self._free.get()
        try:
            yield lambda piece: self._of(piece, rooms)
        finally:
            self._free.put(rooms)

    def last(self) -> Floats:
        """Return what is left of the whole."""
        return self._of(len(self._sizes) - 1, [])

    def _of(self, piece: int, rooms: list[Floats]) -> Floats:
        size = int(self._sizes[piece])
        memory = rooms[self._key[piece]] if self._within[piece] else self._own[piece]
        return memory[: size * size].reshape((size, size), order="F")
