"""What the channels read while the rig rests: their zeros, from quiet stretches at either end of the log."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.riglog.channels import Channels
from app.riglog.columns import Role
from app.riglog.reading import Flags, Floats

_ZEROED: Final[tuple[Role, ...]] = ("output", "input", "couple", "force")
_WINDOWS: Final = 200
_LEAST_ROWS: Final = 10
_LEAST_WINDOWS: Final = 3
_QUIET: Final = 0.02
"""Of a channel's range: a stretch that wanders more is not quiet."""
_LARGE: Final = 0.2
"""Of a channel's range: a zero further off is doubted."""


@dataclass(frozen=True)
class Zero:
    """The zeros and where they come from."""

    offsets: Mapping[Role, float]
    """In the units of the channels; nought for one that is not known."""
    rows: int
    """Number of quiet rows they rest on; 0 where they were given or there were none."""
    sentences: tuple[str, ...]


def zero_of(log: Channels, given: Mapping[Role, float] | None = None) -> Zero:
    """Return the zeros of the log's torques and forces; those given are taken as they are."""
    given = given or {}
    roles = [role for role in _ZEROED if log.has(role) and log.columns.of[role].name and role not in given]
    start = _quiet_rows(log, roles, backward=False)
    end = _quiet_rows(log, roles, backward=True)
    offsets: dict[Role, float] = dict(given)
    said = [f"The zero of {role} is {value:.4g}, as given." for role, value in given.items()]
    if not roles:
        return Zero(offsets, 0, tuple(said))
    if not start and not end:
        names = ",".join(f"{role}=0" for role in roles)
        said.append(
            "The log neither begins nor ends at rest, so zeros are not known and are taken as nought: let the"
            f" rig rest for some seconds first, or say --zero {names}"
        )
        return Zero(offsets | dict.fromkeys(roles, 0.0), 0, tuple(said))
    for role in roles:
        values = log.of[role]
        begins, ends = values[:start], values[len(values) - end :]
        offsets[role] = float(np.nanmean(np.concatenate([begins, ends])))
        said += _doubts(log, role, offsets[role], begins, ends)
    return Zero(offsets, start + end, tuple(said))


def _doubts(log: Channels, role: Role, offset: float, begins: Floats, ends: Floats) -> list[str]:
    span = float(np.nanmax(log.of[role]) - np.nanmin(log.of[role]))
    said = []
    if abs(offset) > _LARGE * span:
        said.append(
            f"The zero of {role} is {offset:.4g}, much beside a range of {span:.4g}: was the rig at rest and"
            " unloaded?"
        )
    if len(begins) and len(ends):
        drift = float(np.nanmean(ends) - np.nanmean(begins))
        if abs(drift) > _QUIET * span:
            said.append(
                f"The zero of {role} wandered by {drift:.3g} from beginning to end: the mean is taken, and"
                " no figure is surer than that."
            )
    return said


def _quiet_rows(log: Channels, roles: list[Role], *, backward: bool) -> int:
    """Return how many rows at that end all of the channels rest in."""
    if not roles:
        return 0
    return min(_quiet_of(log.of[role][::-1] if backward else log.of[role]) for role in roles)


def _quiet_of(values: Floats) -> int:
    width = max(len(values) // _WINDOWS, _LEAST_ROWS)
    count = len(values) // width
    if count < 2 * _LEAST_WINDOWS:
        return 0
    windows = values[: count * width].reshape(count, width)
    known: Flags = np.asarray(np.isfinite(windows).all(axis=1))
    span = float(np.nanmax(values) - np.nanmin(values))
    if span == 0.0 or not known[0]:
        return 0
    noise = max(float(windows[0].std()), span * 1e-6)
    means, spreads = windows.mean(axis=1), windows.std(axis=1)
    first = float(means[0])
    steady = np.asarray(spreads < min(2.0 * noise, _QUIET * span))
    level = np.asarray(np.abs(means - first) < min(2.0 * noise, _QUIET * span))
    quiet: Flags = known & steady & level
    stretch = count if quiet.all() else int(np.argmin(quiet))
    # the last window may hold the beginning of the movement
    return max(stretch - 1, 0) * width if stretch > _LEAST_WINDOWS else 0
