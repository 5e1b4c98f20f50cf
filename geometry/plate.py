"""A plate: one piece cut from sheet, as its flat pattern says, and where it stands in space.

The flat pattern is drawn seen from the plate's front. Its local axes are x, y in the sheet and z = x cross y
out of the front face; the back face is the other one. A fold turned *up* brings the far panel toward the
front.
"""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

from pydantic import Field

from geometry.part import FlatPlace, Name, NotNegative, Part, Place, Positive


class Corner(Part):
    """A corner of an outline, and the edge from it to the next corner.

    The edge is straight, or an arc through a third point.
    """

    at_mm: FlatPlace
    radius_mm: NotNegative = 0.0
    """Radius the corner is rounded with; 0 leaves it sharp. Only between two straight edges."""
    arc_via_mm: FlatPlace | None = None
    """A point the arc to the next corner passes through; None for a straight edge."""


class Hole(Part):
    """A round opening."""

    kind: Literal["hole"] = "hole"
    name: Name
    centre_mm: FlatPlace
    diameter_mm: Positive


class Slot(Part):
    """An opening with two parallel sides and two half-round ends."""

    kind: Literal["slot"] = "slot"
    name: Name
    centre_mm: FlatPlace
    length_mm: Positive
    """Over all, ends included."""
    width_mm: Positive
    angle_deg: float = 0.0
    """Direction of the long axis, from x toward y."""


class CutOut(Part):
    """A free opening with an outline of its own."""

    kind: Literal["cut-out"] = "cut-out"
    name: Name
    corners: Annotated[tuple[Corner, ...], Field(min_length=2)]


Opening = Annotated[Hole | Slot | CutOut, Field(discriminator="kind")]


class FoldLine(Part):
    """A line the plate is folded along: the middle of its bend zone in the flat pattern."""

    name: Name
    from_mm: FlatPlace
    to_mm: FlatPlace
    angle_deg: Annotated[float, Field(gt=0, lt=180)] = 90.0
    """How far the sheet is turned out of flat: 90 makes a square corner."""
    direction: Literal["up", "down"] = "up"
    inside_radius_mm: NotNegative
    k_factor: Annotated[float, Field(gt=0, lt=1)] | None = None
    """Place of the neutral line, as a share of the thickness from the inner face; None takes DIN 6935."""


class Placement(Part):
    """Where a plate stands in space: its flat pattern's origin and axes, for the panel that stays still."""

    origin_mm: Place = (0.0, 0.0, 0.0)
    x_axis: Place = (1.0, 0.0, 0.0)
    y_axis: Place = (0.0, 1.0, 0.0)
    """Made square to x_axis; both are given any length above zero."""
    origin_on: Literal["back", "middle", "front"] = "back"
    """Which level of the sheet stands on origin_mm, so that a change of thickness keeps that face where it
    is."""
    still_at_mm: FlatPlace | None = None
    """A point of the panel that stays still when the plate is folded; None takes the largest panel."""


CutBy = Literal["laser", "plasma", "water jet", "saw", "mill", "shear", "punch", "unknown"]


class Plate(Part):
    """One piece cut from sheet."""

    name: Name
    material: Name | None
    """A name from the table of materials or from the bracket's own `materials`; None is a blank."""
    thickness_mm: Positive
    outline: Annotated[tuple[Corner, ...], Field(min_length=2)]
    openings: tuple[Opening, ...] = ()
    folds: tuple[FoldLine, ...] = ()
    placement: Placement = Placement()
    cut_by: CutBy = "unknown"
    """How its edges are cut; it decides how many reversals they bear."""
    thickness_tolerance_mm: NotNegative | None = None
    """How much thinner it may be than `thickness_mm`; None takes what sheets usually are."""

    def opening(self, name: str) -> Hole | Slot | CutOut:
        """Return the opening of that name; KeyError, naming the plate and its openings, if there is none."""
        for opening in self.openings:
            if opening.name == name:
                return opening
        known = ", ".join(o.name for o in self.openings) or "none"
        raise KeyError(f"plate {self.name} has no opening {name!r}; it has: {known}")

    def with_opening(self, opening: Hole | Slot | CutOut) -> Plate:
        """Return the plate with the opening added, or changed if one has its name."""
        return self.but(openings=_put(self.openings, opening))

    def with_fold(self, fold: FoldLine) -> Plate:
        """Return the plate with the fold line added, or changed if one has its name."""
        return self.but(folds=_put(self.folds, fold))

    def without(self, name: str) -> Plate:
        """Return the plate without the opening or fold line of that name."""
        return self.but(
            openings=tuple(o for o in self.openings if o.name != name),
            folds=tuple(f for f in self.folds if f.name != name),
        )


_Named = TypeVar("_Named", Hole | Slot | CutOut, FoldLine)


def _put(parts: tuple[_Named, ...], part: _Named) -> tuple[_Named, ...]:
    if any(p.name == part.name for p in parts):
        return tuple(part if p.name == part.name else p for p in parts)
    return parts + (part,)  # noqa: RUF005 - the unpacked form loses the constrained type
