"""The note on the couple: its size, where it comes from, the factor on it. No Qt."""

from __future__ import annotations

from app.window.lists.field import OPEN_BOX, Field, Line, Piece
from app.window.lists.off_default import off_default
from app.window.lists.setting import SOURCES
from app.wording.verdict_words import couple_words
from geometry.bracket import Bracket
from geometry.loads import Couple, LoadCell, MotorTorque, StatedCouple, TorqueMeters


def couple_line(bracket: Bracket) -> Line:
    """Return the note on the couple."""
    couple = bracket.loads.couple
    source = Field(
        (("loads", "couple", "source"),), "source of the couple", couple.source, "choice", choices=SOURCES
    )
    factor = bracket.loads.couple_factor
    default = bracket.loads.but(factor=None).couple_factor
    usual, looser = off_default(factor, default, higher_is_looser=False)
    factor_field = Field(
        (("loads", "factor"),),
        "factor on the couple",
        factor,
        "number",
        may_be_empty=True,
        usual=usual,
        looser=looser,
    )
    more = bracket.loads.couple_may_be_more
    default = bracket.loads.but(couple_uncertainty=None).couple_may_be_more
    usual, looser = off_default(more, default, higher_is_looser=False, share=True)
    more_field = Field(
        (("loads", "couple_uncertainty"),),
        "by how much the couple may be larger",
        # worked out of what the meters read it has no end of digits; what is typed is shown as it is
        round(more, 3) if bracket.loads.couple_uncertainty is None else more,
        "share",
        may_be_empty=True,
        usual=usual,
        looser=looser,
    )
    pieces = (*_pieces(couple, source), "; factor ", factor_field, "; it may be ", more_field, " larger.")
    return Line("couple", pieces)


def _pieces(couple: Couple, source: Field) -> tuple[Piece, ...]:
    match couple:
        case StatedCouple():
            by = Field(
                (("loads", "couple", "by"),),
                "who states the couple",
                couple.by.strip() or None,
                "words",
                blank=not couple.by.strip(),
                instead="nobody yet",
                may_be_empty=True,
            )
            return (
                "Couple ",
                _figure("couple_nm", "couple", couple.couple_nm, "N.m"),
                ", ",
                source,
                " by ",
                by,
            )
        case TorqueMeters():
            return (
                f"Couple {_sum(couple)} by ",
                source,
                ": output ",
                _figure("output_nm", "output torque", couple.output_nm, "N.m"),
                " less input ",
                _figure("input_nm", "input torque", couple.input_nm, "N.m"),
            )
        case LoadCell():
            return (
                f"Couple {_sum(couple)} by ",
                source,
                ": ",
                _figure("force_n", "force on the load cell", couple.force_n, "N"),
                " at an arm of ",
                _figure("arm_mm", "arm of the load cell", couple.arm_mm, "mm"),
            )
        case MotorTorque():
            return _motor(couple, source)


def _motor(couple: MotorTorque, source: Field) -> tuple[Piece, ...]:
    ratio = Field(
        (("loads", "couple", "ratio"),),
        "ratio of the gearing",
        couple.ratio,
        "number",
        blank=couple.ratio is None,
    )
    driving = Field(
        (("loads", "couple", "back_driving"),),
        "which way it is driven",
        "back-driving" if couple.back_driving else "driving",
        "choice",
        choices=("driving", "back-driving"),
    )
    efficiency = Field((("loads", "couple", "efficiency"),), "efficiency", couple.efficiency, "share")
    return (
        f"Couple {_sum(couple)} from ",
        source,
        " torque ",
        _figure("motor_nm", "motor torque", couple.motor_nm, "N.m"),
        " times ratio ",
        ratio,
        ", ",
        driving,
        " at efficiency ",
        efficiency,
    )


def _figure(name: str, spoken: str, value: float | None, unit: str) -> Field:
    return Field((("loads", "couple", name),), spoken, value, unit=unit, blank=value is None)


def _sum(couple: Couple) -> str:
    return OPEN_BOX if couple.value_nm is None else couple_words(couple.value_nm, "mm")
