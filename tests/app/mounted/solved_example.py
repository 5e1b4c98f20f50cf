"""A folded plate on three bosses and a dash bar, solved once on a coarse mesh, as results."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from geometry.bracket import Bracket
from solver.answers import case_results, plate_fields
from solver.checking import check_all
from solver.results import FreeMotion, Results
from tests.app.example_results import example_results
from tests.brackets import meshed, one_piece, solved_on

COUPLE_NM = 30.0


def bracket() -> Bracket:
    """Return the bracket; its plate's back stands at station 0."""
    return one_piece(folded=True)


@cache
def results() -> Results:
    """Return its results: fields and cases are computed, the rest is invented."""
    whole = bracket()
    plates = meshed(whole, 14.0)
    solved = solved_on(whole, plates)
    checked = check_all(solved, COUPLE_NM, slide=False)
    return replace(
        example_results(),
        cases=case_results(solved, checked.load),
        plates=plate_fields(checked, plates),
        free_motions=(swinging(),),
        hash=whole.input_hash(),
    )


def swinging() -> FreeMotion:
    """Return an invented free motion: casing and plate turn about the shaft together."""
    turn = np.array([0.0, 0.0, 0.0, 0.0, 0.0, 0.01])
    return FreeMotion(
        "the casing turns about the shaft", ("couple +",), True, {"casing": turn, "plate": turn}
    )


def hot(times: float) -> Results:
    """Return the results with all stress that many times the largest allowed."""
    whole = results()
    field = whole.plates[0]
    top = float(field.von_mises_mpa[field.judged].max())
    scaled = field.von_mises_mpa * (times * field.allowable_mpa / top)
    return replace(whole, plates=(replace(field, von_mises_mpa=scaled),))
