"""What is said of a couple log, in sentences."""

from __future__ import annotations

from typing import Final

from app.riglog.couple_log import CoupleLog

_APART: Final = 0.05
"""Share by which two ways of measuring may differ before it is said."""
_SURE: Final = 3.0


def couple_sentences(found: CoupleLog) -> tuple[str, ...]:
    """Return what has to be known beside the figures, most important first."""
    said = [*_agreement(found), *_speed(found), *found.zero.sentences]
    if found.cycles == 0:
        said.append("The couple never went one way and then the other: a bracket feels both.")
    return tuple(said)


def _agreement(found: CoupleLog) -> list[str]:
    both = found.agreement
    if both is None:
        return []
    if both.slope < 0:
        return [
            "Force x arm goes against output - input: the cell's sign is the other way round; say"
            " --signs force=-"
        ]
    if abs(both.slope - 1.0) > max(_APART, _SURE * both.slope_error):
        arm = found.peak.arm_mm
        fits = f"; an arm of {arm * both.slope:.0f} mm would make them agree" if arm else ""
        return [
            f"Output - input is {both.slope:.3f} times force x arm: arm, unit or a meter is off{fits}. The"
            " larger couple is taken."
        ]
    return []


def _speed(found: CoupleLog) -> list[str]:
    if not found.fast_known:
        if found.source == "load cell":
            return []
        return [
            "There is no time with an angle or speed column, so fast rows cannot be told apart: the peak may"
            " hold the rotor's inertia."
        ]
    said = []
    if found.fast_peak_nm is not None and found.fast_peak_nm > found.peak.couple_nm:
        less = found.cell_peak is not None
        said.append(
            f"Fast rows reach {found.fast_peak_nm:.3g} N.m, more than the {found.peak.couple_nm:.3g} N.m of"
            " the slow ones: "
            + (
                "the load cell says how much of it the casing feels."
                if less
                else "without a load cell nobody knows how much of it the casing feels; take a factor for it."
            )
        )
    return said
