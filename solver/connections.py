"""What every connection carries in every load case, and what that uses of its friction and its preload."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from solver.clamped_bolt import ClampedBolt
from solver.joint_rules import slip_holds_n
from solver.rigid import Floats
from solver.structure import Structure

SLIP_RING = 0.91
"""Share of the ellipse (V, T) that a ring under even pressure reaches (design figure, own calculation)."""


@dataclass(frozen=True)
class ConnectionForces:
    """Forces on the head-side plate of every connection: rows are connections, columns load cases.

    In the connection's axes: third along the bolt, from the mating face toward the partner.
    """

    bolts: tuple[str, ...]
    shear_n: Floats
    pull_n: Floats
    """Positive draws the plate toward its partner: what the bolt has to hold."""
    tilt_nmm: Floats
    """Larger of the two ends of a spacer."""
    spin_nmm: Floats
    local: Floats
    """(connections, 6, columns) force and moment about the middle of the mating face."""

    def columns(self, picked: Sequence[int] | np.ndarray) -> ConnectionForces:
        """Return the same for some of the columns."""
        return ConnectionForces(
            self.bolts,
            self.shear_n[:, picked],
            self.pull_n[:, picked],
            self.tilt_nmm[:, picked],
            self.spin_nmm[:, picked],
            self.local[:, :, picked],
        )


def local_wrenches(structure: Structure, wrenches: Sequence[Floats]) -> Floats:
    """Return (connections, 6, columns) wrenches on the head-side plates in each connection's axes.

    `wrenches` per plate (6 bodies, columns), in X, Y, Z about each mating face; linear in them.
    """
    rows = []
    for connection in structure.connections:
        wrench = wrenches[connection.plate][6 * connection.body : 6 * connection.body + 6]
        rows.append(np.vstack([connection.axes.T @ wrench[:3], connection.axes.T @ wrench[3:]]))
    return np.array(rows).reshape(len(rows), 6, -1)


def forces_from_local(structure: Structure, local: Floats) -> ConnectionForces:
    """Return the connection forces of (connections, 6, columns) wrenches in each connection's axes."""
    spacer = np.array([c.spacer_mm for c in structure.connections]).reshape(-1, 1)
    near = np.hypot(local[:, 3], local[:, 4])
    far = np.hypot(local[:, 3] + spacer * local[:, 1], local[:, 4] - spacer * local[:, 0])
    return ConnectionForces(
        tuple(c.bolt for c in structure.connections),
        np.hypot(local[:, 0], local[:, 1]),
        local[:, 2],
        np.maximum(near, far),
        np.abs(local[:, 5]),
        local,
    )


def slip_demand_n(
    forces: ConnectionForces, bolts: Mapping[str, ClampedBolt], slip_factor: float
) -> tuple[Floats, Floats]:
    """Return (connections, columns) what asks for friction and what there is of it, in N, on one face.

    Asked: factor / 0.91 sqrt(V^2 + (T / r)^2) with r the friction radius of the ring. There is V_f = k_s mu
    (F_low - 0.8 N), N the pull and k_s below 1 in holes wider than usual (EN 1993-1-8 3.9), nought where the
    pull has taken all of the preload, nan where preload or friction is not known.
    """
    held = [bolts[name] for name in forces.bolts]
    radius = np.array([b.friction_radius_mm for b in held]).reshape(-1, 1)
    friction, low, k_s = (
        np.array([np.nan if value is None else value for value in values]).reshape(-1, 1)
        for values in (
            [b.friction for b in held],
            [b.preload_low_n for b in held],
            [b.slip_share for b in held],
        )
    )
    holds = slip_holds_n(low, friction, forces.pull_n, k_s)
    return slip_factor / SLIP_RING * np.hypot(forces.shear_n, forces.spin_nmm / radius), holds


def slip_used(forces: ConnectionForces, bolts: Mapping[str, ClampedBolt], slip_factor: float) -> Floats:
    """Return the (connections, columns) slip use; inf where nothing holds, nan where that is not known."""
    asked, holds = slip_demand_n(forces, bolts, slip_factor)
    with np.errstate(divide="ignore", invalid="ignore"):
        used = np.where(holds > 0.0, asked / holds, np.where(asked > 0.0, np.inf, 0.0))
    return np.where(np.isnan(holds), np.nan, used)


def opening_demand_n(forces: ConnectionForces, bolts: Mapping[str, ClampedBolt]) -> Floats:
    """Return the (connections, columns) preload that would just keep every ring closed.

    It is N + M / e, not below nought.
    """
    arm = np.array([bolts[name].opening_arm_mm for name in forces.bolts]).reshape(-1, 1)
    return np.asarray(np.maximum(forces.pull_n + forces.tilt_nmm / arm, 0.0))


def tension_n(forces: ConnectionForces, bolts: Mapping[str, ClampedBolt]) -> Floats:
    """Return the (connections, columns) tension demand on each bolt, N + M / ro, not below nought."""
    radii = np.array([bolts[name].ring_outer_mm for name in forces.bolts])[:, None]
    return np.asarray(np.maximum(forces.pull_n + forces.tilt_nmm / radii, 0.0))
