"""What is asked of a plate beside its stiffness: other beds, and how supple it is.

Both are worked out with the plate's factor, when the first asks: pencil needs neither.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from solver.condensed_plate import CondensedPlate
from solver.held_plate import HeldPlate
from solver.net_section import NetSection, net_sections
from solver.other_beds import OtherBeds, drifts_of
from solver.rigid import Floats
from solver.stress import vertex_stress
from solver.stress_survey import StressSurvey
from solver.suppleness import Riders, Suppleness


@dataclass(frozen=True)
class OnOtherBeds:
    """What a plate on softer or stiffer beds is worked out from."""

    beds: OtherBeds
    stress: Floats
    """(v * 6, drifts) stress in MPa of the modes' drifts at the survey's places."""
    sections: tuple[NetSection, ...]
    """The plate's net sections, for the modes' drifts."""


Studied = tuple[OnOtherBeds, Suppleness]


class PlateStudy:
    """Other beds and suppleness of one plate, worked out once; safe to ask from several threads.

    Until then it keeps the plate's factor.
    """

    def __init__(
        self, held: HeldPlate, anew: Callable[[], HeldPlate], work: Callable[[HeldPlate], Studied]
    ) -> None:
        """Take the plate's factor, what makes it anew once it was let go, and what is done with it."""
        self._held: HeldPlate | None = held
        self._anew, self._work = anew, work
        self._found: Studied | None = None
        self._lock = threading.Lock()

    @property
    def on_other_beds(self) -> OnOtherBeds:
        """What the plate on other beds is worked out from."""
        return self._studied()[0]

    @property
    def suppleness(self) -> Suppleness:
        """How supple the plate is."""
        return self._studied()[1]

    def let_go(self) -> None:
        """Throw the factor away: nobody is about to ask."""
        with self._lock:
            self._held = None

    def _studied(self) -> Studied:
        with self._lock:
            if self._found is None:
                self._found = self._work(self._held or self._anew())
                self._held = None
            return self._found


def study_plate(index: int, plate: CondensedPlate, surveyed: StressSurvey, held: HeldPlate) -> Studied:
    """Return what other beds and buckling ask of a plate, the `index`-th, from its factor."""
    metal, mesh = plate.metal, plate.mesh
    # The supplest ways are sought with the columns that the drifts take anyway.
    riders = Riders(mesh, held.answer)
    drifts, beds = drifts_of(
        held.beds, (plate.modes, held.moved), held.weight, plate.stiffness, riders.answer
    )
    stress = vertex_stress(mesh, drifts, metal.elastic_modulus_mpa, metal.poisson)
    judged = stress[np.searchsorted(mesh.vertex_nodes, surveyed.nodes)]
    others = OnOtherBeds(
        beds,
        judged.reshape(6 * len(surveyed.nodes), stress.shape[2]),
        net_sections(index, plate.plate, mesh, plate.places, stress),
    )
    return others, riders.suppleness(plate.modes)
