"""The base every piece of a bracket is made of, and the kinds of numbers it holds.

Glossary
--------
flat place  a point of a plate's flat pattern, (x, y) in mm
place       a point in space, (x, y, z) in mm: Z along the shaft toward the driver, Y in the vertical plane of
            the shaft and square to it, X = Y x Z
range       (low, high) of a quantity that is not known exactly
"""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field


class Part(BaseModel):
    """An immutable piece of a bracket; a change returns a copy.

    Unknown keys and numbers that are not finite are refused: the reader turns them into findings.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, str_max_length=2000)

    def but(self, **changes: object) -> Self:
        """Return a validated copy with the named fields changed.

        Raises pydantic.ValidationError if one is wrong.
        """
        fields = {name: getattr(self, name) for name in type(self).model_fields}
        return type(self).model_validate(fields | changes)


def _in_order(pair: tuple[float, float]) -> tuple[float, float]:
    if pair[0] > pair[1]:
        raise ValueError(
            f"the low end {pair[0]:g} is above the high end {pair[1]:g}: give the lower figure first"
        )
    return pair


def _not_blank(text: str) -> str:
    if not text.strip():
        raise ValueError("a name cannot be empty: give it one")
    return text


Name = Annotated[str, Field(max_length=80), AfterValidator(_not_blank)]
Positive = Annotated[float, Field(gt=0)]
NotNegative = Annotated[float, Field(ge=0)]
FlatPlace = tuple[float, float]
Place = tuple[float, float, float]
Range = Annotated[tuple[NotNegative, NotNegative], AfterValidator(_in_order)]
"""(low, high), low first."""
