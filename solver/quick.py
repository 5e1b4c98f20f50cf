"""The quick path: what a change of loads, torque, preload, friction, limits, dash bar or bolts does at once.

Plates stay as they were solved. A bolt taken out leaves its bed behind in the plate, so the quick answer
gives movements, forces and all checks that need no stress field; the plate is to be solved again for stress.
"""

from __future__ import annotations

from collections.abc import Collection

from geometry.bracket import Bracket
from solver.answers import bolt_results, casing_movement
from solver.checking import check_quickly
from solver.free_motions import free_motions
from solver.linkage import linkage_of
from solver.results import QuickAnswer
from solver.solved import Solved, with_bolts, with_inputs


def quick_answer(
    whole: Solved,
    bracket: Bracket | None = None,
    *,
    out: Collection[str] = (),
    slipped: Collection[str] = (),
) -> QuickAnswer:
    """Return movements, bolt forces and checks after a change that leaves the plates as they are.

    `bracket` has other loads, limits, torque, preload, friction, column or dash bar than the solved one;
    `out` names bolts taken out, `slipped` bolts that have become pins. KeyError names a bolt that is not
    there.
    """
    for name in (*out, *slipped):
        whole.bracket.bolt(name)
    changed = whole if bracket is None else with_inputs(whole, bracket)
    linkage = changed.linkage
    if out:
        linkage = linkage_of(changed.bracket, changed.places, out=out)
        loose = free_motions(changed.bracket, linkage, changed.plates, changed.cases, stuck=True)
        if loose:
            return QuickAnswer(None, (), (), loose)
    if out or slipped:
        changed = with_bolts(changed, out=out, slipped=slipped, linkage=linkage)
    checked = check_quickly(changed, changed.bracket.loads.couple.value_nm or 0.0)
    return QuickAnswer(
        casing_movement(changed, checked),
        bolt_results(changed, checked),
        checked.checks,
        free_motions(changed.bracket, linkage, changed.plates, changed.cases),
    )
