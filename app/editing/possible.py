"""Plates whose shape can be made, and the refusal of what cannot be done to another."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from app.editing.refused import EditRefused
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.plate import Plate


def folded(plate: Plate, done: str) -> FoldMap:
    """Return where the plate stands in space; EditRefused if it cannot be `done`, such as sawn."""
    with possible(plate, done):
        return fold_map_of(plate)


@contextmanager
def possible(plate: Plate, done: str) -> Iterator[None]:
    """Turn a ShapeError within into EditRefused: the plate cannot be `done`, such as welded."""
    try:
        yield
    except ShapeError as fault:
        raise EditRefused(
            f"plate {plate.name} cannot be {done} while its shape is impossible: {fault}"
        ) from fault
