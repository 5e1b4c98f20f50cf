"""What a plate is fixed with and to: bolts, spacers, washers, the dash bar and anchors."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from geometry.bar_section import RectangularTube as RectangularTube
from geometry.bar_section import RoundTube as RoundTube
from geometry.bar_section import Section
from geometry.part import Name, NotNegative, Part, Place, Positive, Range

USUAL_FACE_FRICTION: Final = 0.15
USUAL_THREAD_FRICTION: Final = 0.12
WRENCH_SCATTER: Final = 0.25
"""Of a torque wrench: common practice, no source."""


class AtHole(Part):
    """A hole of a plate."""

    to: Literal["hole"] = "hole"
    plate: Name
    opening: Name


class AtBoss(Part):
    """A boss of the casing."""

    to: Literal["boss"] = "boss"
    boss: Name


class AtDashBar(Part):
    """The dash bar, at the station nearest to the hole."""

    to: Literal["dash bar"] = "dash bar"


class AtAnchor(Part):
    """An anchor."""

    to: Literal["anchor"] = "anchor"
    anchor: Name


Partner = Annotated[AtHole | AtBoss | AtDashBar | AtAnchor, Field(discriminator="to")]


class Spacer(Part):
    """A tube round the bolt that keeps the plate off its partner."""

    outer_mm: Positive
    inner_mm: Positive
    length_mm: Positive
    material: Name = "S235"


class Washer(Part):
    """The ring under the head, or under the nut."""

    outer_mm: Positive
    inner_mm: Positive
    thickness_mm: Positive


class Bolt(Part):
    """Joins a hole of a plate to a partner: a boss, the dash bar, an anchor or a hole of another plate."""

    name: Name
    size: Name
    """Such as M8, M8x1 or 5/16-18."""
    grade: Name | None = None
    """Such as 8.8; None is a blank."""
    plate: Name
    hole: Name
    joins: Partner
    tightening_nm: Positive | None = None
    """Tightening torque; preload follows with `thread_friction` and `scatter`. Blank together with preload_n:
    no preload known."""
    preload_n: Range | None = None
    """Preload measured or stated, low and high; it overrides the tightening torque."""
    thread_friction: Annotated[float, Field(gt=0, le=1)] = USUAL_THREAD_FRICTION
    scatter: Annotated[float, Field(ge=0, lt=1)] = WRENCH_SCATTER
    """Share by which the preload may lie below or above what the torque gives."""
    face_friction: Annotated[float, Field(ge=0, le=1)] | None = USUAL_FACE_FRICTION
    """Friction between the clamped faces."""
    washer: Washer | Literal["standard", "none"] = "standard"
    pad_diameter_mm: Positive | None = None
    """Diameter of the flat the plate rests on at the dash bar or anchor; None takes the washer's."""
    pad_height_mm: Positive | None = None
    """How far that flat stands off the dash bar or anchor, in line with the bolt; None is a blank where the
    plate does."""
    spacer: Spacer | None = None
    length_mm: Positive | None = None
    locking: Annotated[str, Field(max_length=200)] | None = None
    prevailing_nm: NotNegative | None = None
    """Torque that turns its locking nut on before it clamps, part of `tightening_nm`; None takes what
    its standard lets a new one have at most."""


class BarEnd(Part):
    """How one end of the dash bar is held.

    `welded` holds all six freedoms; `pinned` lets it bend freely and holds the rest; `bolted flange` lies
    somewhere between the two and both are computed; `stiffness` gives its own bending stiffness; `free` holds
    nothing.
    """

    kind: Literal["welded", "bolted flange", "pinned", "stiffness", "free"]
    bending_nm_per_deg: Range | None = None
    """For `stiffness`: about both axes square to the bar."""
    seen_by: Annotated[str, Field(max_length=200)] | None = None

    @property
    def pinned(self) -> BarEnd:
        """Return the same end holding no bending."""
        return self.but(kind="pinned", bending_nm_per_deg=None)


class BarStay(Part):
    """A strut that holds the dash bar at a place along it, such as one down to the tunnel.

    It pushes and pulls along itself alone and is joined on the bar's own line.
    """

    station_mm: NotNegative
    """Along the bar, from from_mm."""
    direction: Place
    """Along the strut, of any length."""
    stiffness_n_per_mm: Range
    """Of the strut with what it stands on, low and high."""
    seen_by: Annotated[str, Field(max_length=200)] | None = None


class DashBar(Part):
    """The tube, bar or open section that spans the car."""

    name: Name = "dash bar"
    from_mm: Place
    to_mm: Place
    section: Section
    up: Place = (0.0, 1.0, 0.0)
    material: Name = "S235"
    ends: tuple[BarEnd, BarEnd]
    """At from_mm and at to_mm."""
    stays: Annotated[tuple[BarStay, ...], Field(max_length=8)] = ()


class Anchor(Part):
    """A point taken as immovable, on somebody's stated word."""

    name: Name
    at_mm: Place | None = None
    word: Annotated[str, Field(max_length=400)]
    """Who says that it is immovable, and why."""
    metal: Literal["steel", "cast aluminium", "cast iron"] = "steel"


class OwnMaterial(Part):
    """A material that is not in the table, with the source of its figures."""

    name: Name
    kind: Literal["steel", "stainless", "aluminium"]
    yield_mpa: Positive
    tensile_mpa: Positive
    elastic_modulus_mpa: Positive
    poisson: Annotated[float, Field(ge=0, lt=0.5)]
    density_kg_m3: Positive
    source: Annotated[str, Field(min_length=1, max_length=400)]
    least_inside_radius_mm: NotNegative | None = None
