"""One bracket under all its load cases, at any couple: everything that does not need the mesh again.

Glossary
--------
state     how the connections are taken: stuck or all slipped, with some ranges of stiffness at their high
          ends and the others at their low ones
column    one load case in one state
amounts   how much of each mode of a plate: motions of its bodies, then its weight
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Literal

import numpy as np

from geometry.bracket import Bracket
from geometry.stiffness_ranges import HighEnds, ends_together
from solver.condensed_plate import CondensedPlate
from solver.connections import ConnectionForces, forces_from_local, local_wrenches
from solver.dash_bar import bar_stress_mpa
from solver.elasticity import chunks
from solver.free_motions import DRIVES, null_motions
from solver.linkage import Linkage, column_taken
from solver.load_cases import UNIT_LOADS, LoadCase
from solver.rigid import Floats
from solver.structure import (
    Response,
    Structure,
    plate_wrenches,
    respond_all_slipped,
    respond_slipped,
)
from solver.structure_assembly import build_structures

Taken = Literal["stuck", "all slipped", "sliding"]


@dataclass(frozen=True)
class State:
    """The response to the nine unit loads in one state."""

    taken: Taken
    high: HighEnds
    response: Response
    local: Floats
    """(connections, 6, 9) wrenches on the head-side plates, in each connection's axes."""
    amounts: tuple[Floats, ...]
    """Per plate (6 b + 3, 9)."""
    holds: tuple[bool, ...]
    """Per load case: whether the state can balance it, that is, whether it drives no free motion."""
    moved: dict[int, tuple[Floats, Floats]] = field(default_factory=dict, compare=False, repr=False)
    """Per plate what `unit_movements` was asked for last and answered: loads change, unit loads do not."""

    @property
    def structure(self) -> Structure:
        """Return the system that answered."""
        return self.response.structure


@dataclass(frozen=True)
class Column:
    """One load case in one state."""

    case: LoadCase
    taken: Taken
    high: HighEnds

    @property
    def words(self) -> str:
        """Return both in words."""
        state = {"stuck": "connections stuck", "all slipped": "all connections slipped", "sliding": "sliding"}
        return f"{self.case.words}; {state[self.taken]}"


@dataclass(frozen=True)
class Loaded:
    """All columns at one couple."""

    columns: tuple[Column, ...]
    forces: ConnectionForces
    amounts: tuple[Floats, ...]
    """Per plate (6 b + 3, columns)."""
    casing: Floats
    """(6, columns) motion about the casing's reference point."""
    bar: Floats
    """(6 nodes, columns) motions of the dash bar's nodes."""
    structure: Structure
    by_state: tuple[tuple[State, Floats], ...] = ()
    """The states that the first columns are of, and how much of each unit load they have (9, columns)."""

    @cached_property
    def bar_stress_mpa(self) -> Floats:
        """Return the largest equivalent stress in each stretch of the dash bar, (stretches, columns), MPa.

        Without stretches where there is none, or where it is taken as immovable.
        """
        model = self.structure.bar
        return np.zeros((0, len(self.columns))) if model is None else bar_stress_mpa(model, self.bar)


def states_of(
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    linkage: Linkage,
    cases: Sequence[LoadCase],
    *,
    out: Collection[str] = (),
    slipped: Collection[str] = (),
) -> tuple[State, ...]:
    """Return the responses in every state: stuck and all slipped, for the ends of ranges together.

    Bolts in `out` hold nothing; those in `slipped` are pins in the stuck state too.
    """
    states = []
    together = ends_together(bracket)
    balanced = _balanced(bracket, plates, linkage, cases, together)
    for high, structure in zip(together, build_structures(bracket, plates, together, out=out), strict=True):
        holds, free = balanced[high]
        loads = structure.unit_loads
        stuck = respond_slipped(structure, loads, slipped)
        states.append(_state("stuck", high, stuck, tuple(True for _ in cases)))
        if any(holds):
            response, _ = respond_all_slipped(structure, loads, free)
            states.append(_state("all slipped", high, response, holds))
    return tuple(states)


def unit_movements(states: Sequence[State], plate: int, modes: Floats) -> list[Floats]:
    """Return of each state the movements (3 v, 9), mm, of a plate's vertices under the unit loads.

    `modes` (3 v, 6 b + 3) are theirs for every mode of the plate.
    """
    unknown = [state for state in states if state.moved.get(plate, (None, None))[0] is not modes]
    if unknown:
        # All at once: the modes are many, and reading them takes longer than the products.
        amounts = np.hstack([state.amounts[plate] for state in unknown])
        moved = np.empty((len(modes), amounts.shape[1]))
        # a product of a very long matrix and a narrow one is far quicker in parts
        for part in chunks(len(modes)):
            moved[part] = modes[part] @ amounts
        for state, own in zip(unknown, np.split(moved, len(unknown), axis=1), strict=True):
            state.moved[plate] = modes, own
    return [state.moved[plate][1] for state in states]


def with_cases(
    states: Sequence[State],
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    linkage: Linkage,
    cases: Sequence[LoadCase],
) -> tuple[State, ...]:
    """Return the same responses for other load cases: unit loads do not know them.

    Where none of them is balanced with all slipped that state goes; where it was not answered and is needed
    now, all is answered anew.
    """
    every = tuple(True for _ in cases)
    balanced = _balanced(bracket, plates, linkage, cases, [s.high for s in states])
    ends = {high: holds for high, (holds, _) in balanced.items()}
    answered = {s.high for s in states if s.taken == "all slipped"}
    if any(any(holds) and high not in answered for high, holds in ends.items()):
        return states_of(bracket, plates, linkage, cases)
    changed = [replace(s, holds=every if s.taken == "stuck" else ends[s.high]) for s in states]
    return tuple(s for s in changed if any(s.holds))


def drives(linkage: Linkage, plates: Sequence[CondensedPlate], case: LoadCase, basis: Floats) -> bool:
    """Return whether a load case drives any free motion, of casing or plates."""
    if basis.shape[1] == 0:
        return False
    for part in (case.per_couple, case.rest):
        load = linkage.turn_scale * linkage.loads(plates, part)
        size = float(np.linalg.norm(load))
        if size > 0.0 and float(np.linalg.norm(basis.T @ load)) > DRIVES * size:
            return True
    return False


def loaded(states: Sequence[State], cases: Sequence[LoadCase], couple_nm: float) -> Loaded:
    """Return every column at a couple: each state with the load cases it can balance."""
    columns: list[Column] = []
    local, casing, bar, by_state = [], [], [], []
    amounts: list[list[Floats]] = [[] for _ in states[0].amounts]
    every = np.column_stack([case.coefficients(couple_nm) for case in cases])
    for state in states:
        kept = [i for i, held in enumerate(state.holds) if held]
        load = every[:, kept]
        by_state.append((state, load))
        columns += [Column(cases[i], state.taken, state.high) for i in kept]
        local.append(state.local @ load)
        casing.append(state.response.casing @ load)
        bar.append(state.response.bar() @ load)
        for plate, amount in enumerate(state.amounts):
            amounts[plate].append(amount @ load)
    structure = states[0].structure
    return Loaded(
        tuple(columns),
        forces_from_local(structure, np.concatenate(local, axis=2)),
        tuple(np.hstack(a) for a in amounts),
        np.hstack(casing),
        np.hstack(bar),
        structure,
        tuple(by_state),
    )


def _balanced(
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    linkage: Linkage,
    cases: Sequence[LoadCase],
    ends: Iterable[HighEnds],
) -> dict[HighEnds, tuple[tuple[bool, ...], int]]:
    """Return whether each load case is balanced with all connections slipped, and how many motions are free.

    A range that begins at nought holds at its high end alone; the ends of the others change nothing in this.
    """
    found: dict[HighEnds, tuple[tuple[bool, ...], int]] = {}
    known: dict[bytes, tuple[tuple[bool, ...], int]] = {}
    for high in ends:
        taken = column_taken(linkage, bracket, high)
        held = taken.column.tobytes()
        if held not in known:
            basis = null_motions(taken)
            known[held] = tuple(not drives(taken, plates, case, basis) for case in cases), basis.shape[1]
        found[high] = known[held]
    return found


def _state(taken: Taken, high: HighEnds, response: Response, holds: tuple[bool, ...]) -> State:
    structure = response.structure
    gravities = np.hstack([np.zeros((3, UNIT_LOADS - 3)), np.eye(3)])
    wrenches, amounts = [], []
    for i in range(len(structure.plates)):
        bodies = response.bodies(i)
        wrenches.append(plate_wrenches(structure, i, bodies, gravities))
        amounts.append(np.vstack([bodies, gravities]))
    return State(taken, high, response, local_wrenches(structure, wrenches), tuple(amounts), holds)
