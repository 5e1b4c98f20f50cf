"""The lines every inspection begins with, by group, and a fresh record made of them."""

from __future__ import annotations

from typing import Final, get_args

from app.record.profile import Profile
from app.record.record import Group, Item, Record
from geometry.bracket import Bracket
from solver.version import VERSION

GROUPS: Final[tuple[Group, ...]] = get_args(Group)
"""In the order they are looked at."""

AS_DRAWN_LINE: Final = "Plates, folds and holes are as drawn; thickness is measured"
PROOF_LINE: Final = "Proof hung left, right, left; readings lie in the expected band"
_BAR_LINE: Final = "What the dash bar ends in is sound and does not move"
_ANCHOR_LINE: Final = "Every anchor is what it is said to be, and does not move"
_FORMER: Final = {"Every anchor is what its word says it is": _ANCHOR_LINE}
"""What lines of older records were called, by what they are called now."""
_LINES: Final[tuple[tuple[Group, str], ...]] = (
    ("bracket", AS_DRAWN_LINE),
    ("bracket", "No crack, burr or sharp inside corner at openings and folds"),
    ("bracket", PROOF_LINE),
    ("bolts", "Grade marked on every head; size and length as listed"),
    ("bolts", "Every bolt tightened with a torque wrench; witness marks in place"),
    ("bolts", "Every bolt locked as listed"),
    ("welds", "Welds of the dash bar and of tabs are sound over their whole length"),
    ("structure", _BAR_LINE),
    ("structure", _ANCHOR_LINE),
    ("column and collapse travel", "The column's bearings or mount are there and hold"),
    ("column and collapse travel", "Nothing takes away the column's collapse travel"),
    ("clearance at both locks", "Casing, joints and hoses are clear of everything at both locks"),
    ("shaft joints and phasing", "Shaft joints are in phase and within their angle"),
    ("shaft joints and phasing", "Shaft joints are pinched and locked, with full engagement"),
    ("no welded shafts", "No steering shaft is welded"),
    ("cable size and fuse", "Cable size and fuse are as the unit's maker or the donor has them"),
    ("warning lamp", "The warning lamp lights and goes out"),
    ("steering with assist off", "The car can be steered lock to lock with the assist off"),
)


def lines_of(profile: Profile, bracket: Bracket) -> tuple[Item, ...]:
    """Return every line of the check-list, open, the profile's own at the end of their group.

    Of a dash bar or anchors that the bracket has not there is no line: nobody can look at them.
    """
    none_of = {_BAR_LINE} if bracket.dash_bar is None else set()
    none_of |= set() if bracket.anchors else {_ANCHOR_LINE}
    usual = tuple(Item(group=group, words=words) for group, words in _LINES if words not in none_of)
    own = tuple(Item(group=line.group, words=line.words, clause=line.clause) for line in profile.check_list)
    return tuple(sorted(usual + own, key=lambda item: GROUPS.index(item.group)))


def new_record(bracket: Bracket, bracket_file: str, profile: Profile, date: str = "") -> Record:
    """Return a record of that bracket with everything open."""
    return Record(
        title=bracket.title,
        bracket_file=bracket_file,
        bracket_hash=bracket.input_hash(),
        program=VERSION,
        certifier=profile.certifier,
        date=date,
        check_list=lines_of(profile, bracket),
    )


def missing_lines(record: Record, profile: Profile, bracket: Bracket) -> tuple[Item, ...]:
    """Return the lines that an inspection of that bracket has and the record lacks, open."""
    have = {(item.group, _FORMER.get(item.words, item.words)) for item in record.check_list}
    return tuple(item for item in lines_of(profile, bracket) if (item.group, item.words) not in have)


def with_lines_of(record: Record, profile: Profile, bracket: Bracket) -> Record:
    """Return the record with the lines of profile and bracket that it lacks, open."""
    missing = missing_lines(record, profile, bracket)
    if not missing:
        return record
    both = (*record.check_list, *missing)
    return record.but(check_list=tuple(sorted(both, key=lambda item: GROUPS.index(item.group))))
