"""The record of one inspection: a file of its own that says what was judged, seen, measured and decided.

It is immutable; a change returns a copy. It holds the hash of the bracket's inputs. The hash shows that the
same input was judged; it does not show who wrote the record.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from geometry.part import FlatPlace, Name, NotNegative, Part, Place, Positive

FORMAT: Final = "holdsquare record"
VERSION: Final = 1
LONGEST_SIDE_PX: Final = 1600
MOST_PHOTOGRAPHS: Final = 40
MOST_JPEG_BYTES: Final = 900_000
"""Of one photograph."""

HASH_WORDS: Final = (
    "The hash shows that the same inputs were judged. It does not show who signed: only the signature does."
)

Group = Literal[
    "bracket",
    "bolts",
    "welds",
    "structure",
    "column and collapse travel",
    "clearance at both locks",
    "shaft joints and phasing",
    "no welded shafts",
    "cable size and fuse",
    "warning lamp",
    "steering with assist off",
]
ItemState = Literal["open", "met", "not met", "not applicable"]
DecisionWord = Literal["undecided", "accept", "accept with conditions", "refuse", "ask"]
Words = Annotated[str, Field(max_length=2000)]


class Item(Part):
    """One line of the check-list."""

    group: Group
    words: Annotated[str, Field(min_length=1, max_length=400)]
    """What has to be so."""
    clause: Annotated[str, Field(max_length=400)] = ""
    """The text it comes from, if it comes from one."""
    state: ItemState = "open"
    remark: Words = ""


class Photograph(Part):
    """A photograph itself, without anything else the camera wrote down, such as the place."""

    name: Name
    words: Words = ""
    """What it shows."""
    width_px: Annotated[int, Field(gt=0, le=LONGEST_SIDE_PX)]
    height_px: Annotated[int, Field(gt=0, le=LONGEST_SIDE_PX)]
    jpeg: Annotated[str, Field(min_length=4, max_length=MOST_JPEG_BYTES * 4 // 3 + 4)]
    """Base64 of a JPEG file."""


class MeasuredThickness(Part):
    """How thick a plate is as built."""

    plate: Name
    thickness_mm: Positive


class MeasuredHole(Part):
    """Where a hole is as built, in the plate's flat pattern."""

    plate: Name
    opening: Name
    centre_mm: FlatPlace


class MeasuredTorque(Part):
    """What a bolt was found to be tightened with."""

    bolt: Name
    tightening_nm: Positive


class Play(Part):
    """Movement felt at a place with the hands, read by a dial gauge."""

    where: Name
    play_mm: NotNegative
    most_mm: Positive | None = None
    """What is allowed there; None if nobody has said."""


class Expected(Part):
    """What a reading should lie between."""

    low_mm: float
    high_mm: float | None = None
    """None where nothing but friction would stop the movement: then nothing is proved by staying below."""


class Proof(Part):
    """A mass hung on a lever on the casing, left, right and left again; read by a dial gauge.

    What was not written down is None, and keeps the proof open.
    """

    where: Name
    mass_kg: Positive | None = None
    arm_mm: Positive | None = None
    station_mm: float = 0.0
    """Of the lever along the shaft."""
    gauge_at_mm: Place | None = None
    """Where the gauge touches the casing; with `gauge_along` the program expects the readings by itself."""
    gauge_along: Place | None = None
    """The way it reads as more."""
    zero_mm: float = 0.0
    """Reading with nothing hung, before anything was."""
    left_mm: float | None = None
    right_mm: float | None = None
    left_again_mm: float | None = None
    zero_after_left_mm: float | None = None
    zero_after_right_mm: float | None = None
    expected_share: Expected | None = None
    """As the proof card gave it."""
    expected_sag: Expected | None = None
    expected_gap: Expected | None = None

    @property
    def share_mm(self) -> float | None:
        """Return the couple's share: half of left less right; None if not all of it was read."""
        hung = self._hung_mm
        return None if hung is None else (hung[0] - hung[1]) / 2.0

    @property
    def sag_mm(self) -> float | None:
        """Return the sag: half the sum of left and right, above the zero; None if not all was read."""
        hung = self._hung_mm
        return None if hung is None else (hung[0] + hung[1]) / 2.0 - self.zero_mm

    @property
    def gap_mm(self) -> float | None:
        """Return the gap at zero, the lash; None if the zeros were not read again."""
        if self.zero_after_left_mm is None or self.zero_after_right_mm is None:
            return None
        return abs(self.zero_after_left_mm - self.zero_after_right_mm)

    @property
    def apart_mm(self) -> float | None:
        """Return how far the second reading at the left lies from the first; None if one is missing."""
        if self.left_mm is None or self.left_again_mm is None:
            return None
        return abs(self.left_again_mm - self.left_mm)

    @property
    def _hung_mm(self) -> tuple[float, float] | None:
        """Return the readings left, as the mean of both, and right."""
        if self.left_mm is None or self.right_mm is None or self.left_again_mm is None:
            return None
        return (self.left_mm + self.left_again_mm) / 2.0, self.right_mm


class DonorHang(Part):
    """The same hang on the donor's own mounting, in the donor's car; None is not read yet."""

    where: Annotated[str, Field(max_length=400)] = ""
    """Which car and mounting, and who read it."""
    mass_kg: Positive | None = None
    arm_mm: Positive | None = None
    rake_deg: Annotated[float, Field(gt=-80, lt=80)] | None = None
    """Of the donor's shaft."""
    gauge_arm_mm: Positive | None = None
    """How far from the shaft axis the gauge touches, square to the way it reads."""
    left_mm: float | None = None
    after_left_mm: float | None = None
    right_mm: float | None = None
    after_right_mm: float | None = None


class BarPull(Part):
    """A pull at the middle of the dash bar, along its `up` or against it; None is not read yet."""

    where: Annotated[str, Field(max_length=120)] = ""
    """Who read it, and how."""
    pull_n: Positive | None = None
    middle_mm: NotNegative | None = None
    """How far the middle moved the way of the pull."""
    from_end_mm: float | None = None
    """How far the end at from_mm moved the same way."""
    to_end_mm: float | None = None


class Measured(Part):
    """What was measured on the bracket as built."""

    thicknesses: Annotated[tuple[MeasuredThickness, ...], Field(max_length=200)] = ()
    holes: Annotated[tuple[MeasuredHole, ...], Field(max_length=2000)] = ()
    torques: Annotated[tuple[MeasuredTorque, ...], Field(max_length=2000)] = ()
    play: Annotated[tuple[Play, ...], Field(max_length=100)] = ()
    proof: Annotated[tuple[Proof, ...], Field(max_length=20)] = ()
    donor: DonorHang | None = None
    """The reference to compare the proof with."""
    bar_pull: BarPull | None = None
    """It gives the dash bar's ends their measured stiffness."""


class Due(Part):
    """Something that is to be done by a day: a condition, or a line of the check-list."""

    words: Annotated[str, Field(min_length=1, max_length=2000)]
    """Of the condition or the line, as they stand in the record."""
    by: Annotated[str, Field(max_length=10, pattern=r"^\d{4}-\d{2}-\d{2}$")]
    done: Annotated[str, Field(max_length=10, pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = ""
    """When a condition was met; a line of the check-list says that itself."""


class Computed(Part):
    """What the program said when the decision was written down; it is never taken for what it says now."""

    verdict: Literal["pass", "marginal", "fail", "no verdict"]
    holds_to_nm: NotNegative | None = None
    judged_under: Annotated[str, Field(max_length=200)] = ""
    program: Annotated[str, Field(max_length=40)]


class Record(Part):
    """One inspection of one bracket."""

    format: Literal["holdsquare record"] = FORMAT
    version: Literal[1] = VERSION
    title: Annotated[str, Field(max_length=200)] = ""
    bracket_file: Annotated[str, Field(max_length=400)] = ""
    """Name of the file that was judged, without its folder."""
    bracket_hash: Annotated[str, Field(max_length=128)]
    """Of the inputs of that bracket."""
    program: Annotated[str, Field(max_length=40)]
    """Version of the program it was judged with."""
    certifier: Annotated[str, Field(max_length=200)] = ""
    date: Annotated[str, Field(max_length=10, pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = ""
    """As 2031-04-30; empty is open."""
    check_list: Annotated[tuple[Item, ...], Field(max_length=300)] = ()
    measured: Measured = Measured()
    remarks: Words = ""
    decision: DecisionWord = "undecided"
    conditions: Annotated[tuple[Words, ...], Field(max_length=50)] = ()
    due: Annotated[tuple[Due, ...], Field(max_length=350)] = ()
    """Days by which conditions and lines are to be settled; older records have none."""
    reason: Words = ""
    """Why it is accepted although the computed verdict is fail; printed wherever the decision is."""
    computed: Computed | None = None
    """Beside a decision to accept: another verdict now opens the record again."""
    photographs: Annotated[tuple[Photograph, ...], Field(max_length=MOST_PHOTOGRAPHS)] = ()

    def with_item(self, place: int, **changes: object) -> Record:
        """Return the record with one line of the check-list changed."""
        return self.but(
            check_list=tuple(
                item.but(**changes) if i == place else item for i, item in enumerate(self.check_list)
            )
        )

    @property
    def accepts(self) -> bool:
        """Return whether the decision that was written down is to accept."""
        return self.decision in ("accept", "accept with conditions")
