"""The bracket: the whole mounting, one file, immutable."""

from __future__ import annotations

from typing import Annotated, Final, Literal, TypeVar

from pydantic import Field

from geometry.casing import Casing, Column, ShaftJoint, Wheel
from geometry.fit_up import FitUp
from geometry.fixing import Anchor, Bolt, DashBar, OwnMaterial
from geometry.input_hash import NO_INPUT, hash_of
from geometry.installation import Installation
from geometry.loads import Claim, Limits, Loads
from geometry.part import Part
from geometry.plate import Plate
from geometry.variant import Variant
from geometry.weld import Weld

FORMAT: Final = "holdsquare bracket"
VERSION: Final = 1


class Bracket(Part):
    """The whole mounting: plates, bolts, casing, dash bar, loads, limits."""

    format: Literal["holdsquare bracket"] = FORMAT
    version: Literal[1] = VERSION
    title: Annotated[str, Field(max_length=200)] = "untitled bracket"
    note: Annotated[str, Field(max_length=2000)] = ""
    """What the file shows; it enters no result."""
    materials: tuple[OwnMaterial, ...] = ()
    plates: tuple[Plate, ...] = ()
    casing: Casing | None = None
    column: Column = Column()
    wheel: Wheel | None = None
    rake_deg: Annotated[float, Field(ge=-90, le=90)] | None = None
    """How far the shaft rises toward the driver, above level; None is a blank."""
    shaft_joints: tuple[ShaftJoint, ...] = ()
    bolts: tuple[Bolt, ...] = ()
    welds: tuple[Weld, ...] = ()
    dash_bar: DashBar | None = None
    anchors: tuple[Anchor, ...] = ()
    loads: Loads = Loads()
    installation: Installation = Installation()
    """What stands around the bracket; all blank where nobody has said anything."""
    fit_up: FitUp | None = None
    """How far the pieces may be off; None: nobody has said, and they are taken to fit."""
    limits: Limits = Limits()
    claim: Claim | None = None
    layout: Annotated[str, Field(max_length=80)] = ""
    """What the layout that is drawn and judged is called among its variants; it enters no result."""
    variants: tuple[Variant, ...] = ()
    """Other layouts kept in the file; they enter no result."""

    def plate(self, name: str) -> Plate:
        """Return the plate of that name; KeyError, naming the plates there are, if there is none."""
        return _find(self.plates, name, "plate")

    def bolt(self, name: str) -> Bolt:
        """Return the bolt of that name; KeyError, naming the bolts there are, if there is none."""
        return _find(self.bolts, name, "bolt")

    def with_plate(self, plate: Plate) -> Bracket:
        """Return the bracket with the plate added, or changed if one has its name."""
        return self.but(plates=_put(self.plates, plate))

    def with_bolt(self, bolt: Bolt) -> Bracket:
        """Return the bracket with the bolt added, or changed if one has its name."""
        return self.but(bolts=_put(self.bolts, bolt))

    def without_bolt(self, name: str) -> Bracket:
        """Return the bracket without the bolt of that name."""
        return self.but(bolts=tuple(b for b in self.bolts if b.name != name))

    def weld(self, name: str) -> Weld:
        """Return the weld of that name; KeyError, naming the welds there are, if there is none."""
        return _find(self.welds, name, "weld")

    def with_weld(self, weld: Weld) -> Bracket:
        """Return the bracket with the weld added, or changed if one has its name."""
        return self.but(welds=_put(self.welds, weld))

    def without_weld(self, name: str) -> Bracket:
        """Return the bracket without the weld of that name."""
        return self.but(welds=tuple(w for w in self.welds if w.name != name))

    def input_hash(self) -> str:
        """Return the SHA-256, in hex, of all that enters a result: not title, note, claim and variants."""
        return hash_of(self.model_dump(mode="json", exclude=set(NO_INPUT)))


_Named = TypeVar("_Named", Plate, Bolt, Weld)


def _find(parts: tuple[_Named, ...], name: str, word: str) -> _Named:
    for part in parts:
        if part.name == name:
            return part
    known = ", ".join(p.name for p in parts) or "none"
    raise KeyError(f"there is no {word} {name!r}; there is: {known}")


def _put(parts: tuple[_Named, ...], part: _Named) -> tuple[_Named, ...]:
    if any(p.name == part.name for p in parts):
        return tuple(part if p.name == part.name else p for p in parts)
    return parts + (part,)  # noqa: RUF005 - the unpacked form loses the constrained type
