"""Something left blank, as in a file that nobody has finished."""

from __future__ import annotations

from tests.sound.draft import Data, Draft


def left_blank(draft: Draft, data: Data) -> None:
    """Leave something blank."""
    bolt = draft.pick(data["bolts"])
    plate = draft.pick(data["plates"])
    couple = {"source": data["loads"]["couple"]["source"]}
    blanks: dict[str, tuple[Data, Data]] = {
        "column": (data, {"column": {"held_by": None}}),
        "rake": (data, {"rake_deg": None}),
        "wheel": (data, {"wheel": None}),
        "casing": (data, {"casing": None}),
        "grade": (bolt, {"grade": None}),
        "preload": (bolt, {"tightening_nm": None, "preload_n": None}),
        "friction": (bolt, {"face_friction": None}),
        "material": (plate, {"material": None}),
        "couple": (data["loads"], {"couple": couple}),
        "anchor": (data, {"anchors": [anchor | {"word": ""} for anchor in data["anchors"]]}),
    }
    what = draft.pick(list(blanks))
    draft.tag(f"blank: {what}")
    part, change = blanks[what]
    part.update(change)
