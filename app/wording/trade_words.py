"""The words of the trade as this program uses them, each with its meaning: one word for one thing."""

from __future__ import annotations

from typing import Final

TRADE_WORDS: Final[tuple[tuple[str, str], ...]] = (
    ("bracket", "the whole mounting, one file: plates, bolts, welds, casing, dash bar, loads and limits"),
    (
        "plate",
        "one piece cut from sheet: its outline, its openings and its fold lines, drawn flat; flat regions "
        "between folds are panels",
    ),
    ("opening", "a hole, a slot or a cut-out in a plate"),
    (
        "casing",
        "the assist unit's body, taken as rigid, clocked about the shaft axis; bosses are its threads",
    ),
    ("dash bar", "the tube that spans the car"),
    ("anchor", "a point taken as immovable, on somebody's stated word"),
    ("bolt", "joins a hole to a boss, the dash bar, an anchor or a hole of another plate"),
    ("weld", "a fillet along a plate's edge; its throat is its height from the root, where it tires first"),
    ("footprint", "the ring that a bolt clamps on each face"),
    ("bearing", "a place where the column itself holds the shaft sideways"),
    ("couple", "how hard the casing is turned about the shaft: output torque less input torque"),
    ("used", "demand over allowable, in per cent; 100 % is the limit"),
    ("holds to", "the couple, all else unchanged, at which the first check reaches 100 %"),
    ("free motion", "a movement nothing resists; racking is one: plates lean over like a parallelogram"),
    ("friction share", "how much of the resistance to the couple rests on bolt friction alone"),
    ("lash", "movement before slipped bolts come hard against their holes"),
    ("stuck, slipped, out", "what a bolted connection can be: held by friction, turned into a pin, or gone"),
    ("pencil", "a figure so far, in grey and leaning; no verdict rests on it"),
    ("ink", "a figure that was refined; a verdict is only ever in ink"),
    ("blank", "an input nobody has given yet; some bar a verdict until they are filled"),
    ("saw", "a line across a plate that makes it two, each bolt staying with its piece"),
    ("verdict", "pass, marginal, fail, or no verdict; always with its couple and who stated it"),
)
"""In the order a newcomer meets them."""
