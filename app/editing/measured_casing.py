"""A casing from what was measured on it: bosses by callipers, its block by a rule, its mass by a scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pydantic import ValidationError

from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing, Envelope
from geometry.flat_segments import Flat

_BOSS_DIGITS = 2
"""No calliper held over boss faces tells a place nearer than this."""
_BODY_DIGITS = 1
"""A block measured with a rule is not known nearer than a tenth of a mm."""


@dataclass(frozen=True)
class MeasuredBody:
    """What is alike for all bosses, and the casing's body."""

    thread: str
    face_diameter_mm: float
    depth_mm: float | None
    width_mm: float
    height_mm: float
    length_mm: float
    """Along the shaft, from the boss faces away from the driver."""
    mass_kg: float


def with_measured_casing(bracket: Bracket, places: Mapping[str, Flat], body: MeasuredBody) -> Bracket:
    """Return the bracket with a casing whose bosses stand at those places, facing the driver.

    A boss that was there keeps its station, direction and metal; a block of the same sizes its place and its
    mass centre. Another lies round the bosses' middle, its mass in its middle. EditRefused, naming the value,
    if a measure makes no casing.
    """
    there = bracket.casing
    known = {} if there is None else {boss.name: boss for boss in there.bosses}
    try:
        bosses = tuple(_boss(name, place, body, known.get(name)) for name, place in places.items())
        envelope, mass_centre = _block(there, tuple(places.values()), body)
        casing = Casing(
            name="casing" if there is None else there.name,
            station_mm=0.0 if there is None else there.station_mm,
            clocking_deg=0.0 if there is None else there.clocking_deg,
            bosses=bosses,
            envelope=envelope,
            mass_kg=body.mass_kg,
            mass_centre_mm=mass_centre,
        )
    except ValidationError as error:
        first = error.errors()[0]
        what = str(first["loc"][-1]).replace("_", " ")
        raise EditRefused(f"the casing's {what} cannot be so ({first['msg']}): measure it again") from None
    return bracket.but(casing=casing)


def _block(
    there: Casing | None, places: Sequence[Flat], body: MeasuredBody
) -> tuple[Envelope, tuple[float, float, float]]:
    """Return the block, and where the middle of its mass is."""
    sizes = (body.width_mm, body.height_mm, body.length_mm)
    if there is not None:
        old = there.envelope
        if _rounded(sizes) == _rounded(tuple(h - w for w, h in zip(old.low_mm, old.high_mm, strict=True))):
            # they were measured, or typed, and nothing typed here says otherwise
            return old, there.mass_centre_mm
    x, y = (sum(place[axis] for place in places) / max(len(places), 1) for axis in (0, 1))
    width, height, length = sizes
    envelope = Envelope(
        low_mm=_rounded((x - width / 2, y - height / 2, -length)),
        high_mm=_rounded((x + width / 2, y + height / 2, 0.0)),
    )
    return envelope, _rounded((x, y, -length / 2))


def _boss(name: str, place: Flat, body: MeasuredBody, there: Boss | None) -> Boss:
    at = _rounded((place[0], place[1], 0.0 if there is None else there.at_mm[2]), _BOSS_DIGITS)
    if there is None:
        return Boss(
            name=name,
            at_mm=at,
            thread=body.thread,
            depth_mm=body.depth_mm,
            face_diameter_mm=body.face_diameter_mm,
        )
    return there.but(
        at_mm=at, thread=body.thread, depth_mm=body.depth_mm, face_diameter_mm=body.face_diameter_mm
    )


def _rounded(place: Sequence[float], digits: int = _BODY_DIGITS) -> tuple[float, float, float]:
    x, y, z = (round(value, digits) + 0.0 for value in place)
    return (x, y, z)
