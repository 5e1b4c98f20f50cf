"""What swings with the couple: places of one category, with their stress for 1 N.m and at rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from solver.rigid import Floats
from solver.stress_survey import StressSurvey

KEPT_PULLED: Final = 1e6
"""Mean stress, MPa, of what is pulled all the while, such as by preload or by what welding leaves: then no
part of the swing compresses."""


@dataclass(frozen=True)
class Swinging:
    """Places that swing with the couple, all of one category."""

    name: str
    category_mpa: float
    per_nm: Floats
    """(m,) stress for 1 N.m of couple as measured, MPa."""
    mean: Floats
    """(m,) stress it swings about, MPa."""
    where: Sequence[str] | SurveyedPlaces
    """(m,) the places in words."""
    case: str
    shear: bool = False
    """Whether it is a shear stress, of one slope throughout."""


class SurveyedPlaces:
    """Places of a survey in words, each as often as it has ways to swing; made when asked for."""

    def __init__(self, survey: StressSurvey, rows: NDArray[np.int64], ways: int) -> None:
        """Take the survey, the numbers of its places, and how many ways each has."""
        self._survey, self._rows, self._ways = survey, rows, ways

    def __getitem__(self, number: int) -> str:
        return self._survey.where(int(self._rows[number // self._ways]))
