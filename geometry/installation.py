"""What stands around the bracket: shaft joints, cable and fuse, collapse travel, room.

Everything may be blank: a blank is an open item, never a guess. Places are in the bracket's own axes.

Glossary
--------
yoke          the fork at either end of a shaft piece that a shaft joint's cross sits in
phase         how far the yoke at the far end of a shaft piece is turned from the one at its near end
slip          a place where the column or shaft is made to slide together in a crash
donor         the vehicle the unit or the column was taken from
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from geometry.part import Name, NotNegative, Part, Place, Positive
from geometry.tube_clamp import TubeClamp

YesOrNo = Literal["yes", "no"]
Word = Annotated[str, Field(max_length=200)]
Tilt = Annotated[float, Field(ge=-45, le=45)]


class JointInLine(Part):
    """One shaft joint of the line, counted from the wheel."""

    name: Name
    angle_deg: Annotated[float, Field(ge=0, lt=90)] | None = None
    """As typed; measured places of the line override it. None is a blank."""
    plane_deg: float | None = None
    """Direction the joint bends toward, about its shaft; measured places override it. None is a blank."""
    phase_deg: float | None = None
    """Of the shaft piece before it, from the last joint's yoke to this one's, about the piece and seen in the
    direction from the wheel, clockwise; the first joint has none. None is a blank."""
    most_angle_deg: Annotated[float, Field(gt=0, lt=90)] | None = None
    """The largest angle its maker allows; None is a blank."""


class ShaftLine(Part):
    """The steering shaft from the wheel to the steering box: straight pieces between joints."""

    places_mm: Annotated[tuple[Place, ...], Field(max_length=12)] = ()
    """Its two ends and the middle of every joint between, from the wheel on; two or more, or none."""
    joints: Annotated[tuple[JointInLine, ...], Field(max_length=10)] = ()
    sliding_joint: YesOrNo | None = None
    """Whether a piece between casing and steering box can change its length; None is a blank."""
    most_ripple: Annotated[float, Field(gt=0, lt=1)] = 0.1
    """Most that the far end may run ahead of the near one, as a share of its speed."""


class Cable(Part):
    """One copper conductor between battery and unit, by cross-section or by gauge."""

    length_m: Positive | None = None
    area_mm2: Positive | None = None
    gauge: Annotated[int, Field(ge=-3, le=30)] | None = None
    """American wire gauge: 0 is 1/0, -1 is 2/0 and so on; it is used where area_mm2 is blank."""


class DonorWiring(Part):
    """The same in the donor, as read there."""

    area_mm2: Positive | None = None
    fuse_a: Positive | None = None


class Wiring(Part):
    """How the unit is fed."""

    supply_v: Positive = 12.0
    current_a: Positive | None = None
    """The most the unit draws, from its maker or measured; None is a blank."""
    feed: Cable = Cable()
    back: Cable = Cable()
    """The return to the battery; where it goes by the body, the length and section of its own cable."""
    insulation_c: Annotated[float, Field(ge=60, le=260)] | None = None
    """What its insulation bears for good; None is a blank."""
    ambient_c: Annotated[float, Field(ge=-40, le=150)] = 60.0
    """Air round the cable at its hottest place."""
    bundled: Annotated[int, Field(ge=1, le=40)] | None = None
    """Loaded cables that run side by side, this one counted; None is a blank."""
    fuse_a: Positive | None = None
    fuse_kind: Word | None = None
    """Such as `slow, bolted in`; None is a blank."""
    earth_point: Word | None = None
    """Where the return goes; None is a blank."""
    most_drop: Annotated[float, Field(gt=0, lt=1)] = 0.05
    """Most of the supply that the cables may take, there and back."""
    donor: DonorWiring = DonorWiring()


class ShaftPart(Part):
    """One part of column or shaft between two stations."""

    name: Name
    stations_mm: tuple[float, float]
    """Both ends, in any order."""
    moves: Literal["slides", "fixed"] | None = None
    """In a crash: slides along the shaft, or stays where it is; None is a blank."""
    held_by_bracket: YesOrNo | None = None
    """Whether bracket, casing or a clamp grips it; None is a blank."""


class Collapse(Part):
    """How far the column can still slide together in a crash."""

    parts: Annotated[tuple[ShaftPart, ...], Field(max_length=30)] = ()
    travel_mm: NotNegative | None = None
    """Measured along the shaft, as built; None is a blank."""
    donor_travel_mm: NotNegative | None = None
    """The same in the donor as it left its maker; None is a blank."""


class KeptClear(Part):
    """A block that nothing may stand in: knees, a pedal's way, a loom."""

    name: Name
    low_mm: Place
    high_mm: Place


class Room(Part):
    """What has to stay clear around the bracket."""

    kept_clear: Annotated[tuple[KeptClear, ...], Field(max_length=30)] = ()
    looked_at: Word | None = None
    """Who looked under the dash and listed all that has to stay clear; None is a blank."""
    tilt_deg: tuple[Tilt, Tilt] | None = None
    """Least and greatest tilt of the column from where it is drawn, wheel up; 0 and 0 if it does not tilt;
    None is a blank."""
    pivot_mm: Place | None = None
    """A point of the axis, along X, that it tilts about; None is a blank."""
    casing_tilts: YesOrNo | None = None
    """Whether casing and bracket tilt with the column, or stay; None is a blank."""
    column_diameter_mm: Positive | None = None
    """Of the column between pivot and wheel; None is a blank."""


class Installation(Part):
    """Everything around the bracket; a group nobody has said anything of is None."""

    shaft: ShaftLine | None = None
    wiring: Wiring | None = None
    collapse: Collapse | None = None
    room: Room | None = None
    clamps: Annotated[tuple[TubeClamp, ...], Field(max_length=10)] = ()
    """Clamps round the column's tube; the bracket is judged as if there were none."""
