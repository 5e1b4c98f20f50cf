"""What sheets are joined with: bosses, anchors, the dash bar, another sheet, a weld; spacers between."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tests.sound.draft import Data, Draft, Floats, HoleInSpace, in_space, listed
from tests.sound.strips import SHEETS_MM, Strip, panel_for, row_across, strip

Row = Sequence[tuple[str, tuple[float, float]]]


def opposite(side: str) -> str:
    """Return the other face."""
    return "back" if side == "front" else "front"


def to_bosses(draft: Draft, made: Strip, rows: Sequence[Row], side: str) -> None:
    """Bolt rows of holes to bosses of the casing that stand at that face."""
    for row in rows:
        for hole, at in row:
            face, out = in_space(made.sheet, at).mating(side)
            spacer = _spacer(draft)
            length = spacer["length_mm"] if spacer else 0.0
            name = f"boss {len(draft.bosses) + 1}"
            metal = draft.pick(("cast aluminium", "steel", "cast iron"))
            draft.tag(f"boss of {metal}", *(("spacer",) if spacer else ()))
            draft.bosses.append(
                {
                    "name": name,
                    "at": face + length * out,
                    "direction": -out,
                    "thread": draft.size.name,
                    "depth_mm": None if draft.chance(0.008) else draft.number(14.0, 26.0),
                    "metal": metal,
                    "face_diameter_mm": round(1.9 * draft.clear_mm, 1),
                    "tensile_mpa": draft.pick((None, None, None, 250.0)),
                }
            )
            draft.bolt(made.sheet["name"], hole, {"to": "boss", "boss": name}, spacer=spacer)


def to_anchors(draft: Draft, made: Strip, rows: Sequence[Row], side: str) -> None:
    """Bolt rows of holes to anchors that stand at that face, or wherever the face is."""
    draft.tag("anchors")
    for row in rows:
        for hole, at in row:
            face, out = in_space(made.sheet, at).mating(side)
            spacer = _spacer(draft)
            length = spacer["length_mm"] if spacer else 0.0
            name = f"anchor {len(draft.anchors) + 1}"
            stands = bool(spacer) or draft.chance(0.6)
            metal = draft.pick(("steel", "steel", "cast aluminium", "cast iron"))
            draft.tag(f"anchor of {metal}", *(("spacer",) if spacer else ()))
            draft.anchors.append(
                {
                    "name": name,
                    "at_mm": listed(face + length * out) if stands else None,
                    "word": "a bulkhead, said for the trial",
                    "metal": metal,
                }
            )
            draft.bolt(made.sheet["name"], hole, {"to": "anchor", "anchor": name}, spacer=spacer)


def to_bar(draft: Draft, made: Strip, row: Row, side: str) -> None:
    """Bolt one row of holes to the dash bar, which is laid at that face along the row if there is none."""
    holes = [in_space(made.sheet, at) for _, at in row]
    if draft.bar is None:
        spacer = _spacer(draft)
        face, out = _middle(holes, side)
        away = spacer["length_mm"] if spacer else 0.0
        _lay_bar(draft, face + away * out, out, holes[0].frame[:, 0])
        draft.bar_spacer = spacer
    for hole, _ in row:
        draft.tag("dash bar", *(("spacer",) if draft.bar_spacer else ()))
        draft.bolt(made.sheet["name"], hole, {"to": "dash bar"}, spacer=draft.bar_spacer)


def to_sheet(draft: Draft, made: Strip, row: Row, other: Strip, others: Row, side: str) -> None:
    """Put another sheet's face on that face of a sheet, row on row, and bolt the two together."""
    place = in_space(made.sheet, row[0][1])
    last = in_space(made.sheet, row[-1][1])
    face = (place.mating(side)[0] + last.mating(side)[0]) / 2.0
    turned = draft.pick((1.0, -1.0))
    x_axis, y_axis = turned * place.frame[:, 0], turned * place.frame[:, 1]
    along = others[0][1][1]
    other.sheet["placement"] = {
        "origin_mm": listed(face - along * y_axis),
        "x_axis": listed(x_axis),
        "y_axis": listed(y_axis),
        "origin_on": opposite(side),
        "still_at_mm": list(others[0][1]),
    }
    pairs = zip(row, others if turned > 0.0 else others[::-1], strict=True)
    for (hole, _), (there, _) in pairs:
        joins = {"to": "hole", "plate": made.sheet["name"], "opening": hole}
        draft.bolt(other.sheet["name"], there, joins)
    draft.tag("plates bolted together")


def welded_end(draft: Draft, made: Strip) -> None:
    """Weld a strip's last edge to an anchor, to the dash bar or to a sheet that is bolted to anchors."""
    sheet = made.sheet
    corners = sheet["outline"]
    straight = [c for c in corners if abs(c["at_mm"][1] - made.length) < 1e-6]
    for corner in straight:
        corner["radius_mm"] = 0.0
        corner.pop("arc_via_mm", None)
    half = max(abs(c["at_mm"][0]) for c in straight)
    end = in_space(sheet, (0.0, made.length))
    middle, x_axis, y_axis, _ = (end.front + end.back) / 2.0, *end.frame.T
    name = f"weld {len(draft.welds) + 1}"
    kind = draft.pick(("anchor", "plate", "bar" if draft.bar is None else "anchor"))
    draft.tag(f"welded to {kind}")
    joins: Data
    if kind == "anchor":
        anchor = f"anchor {len(draft.anchors) + 1}"
        draft.anchors.append({"name": anchor, "at_mm": listed(middle), "word": "a beam, said for the trial"})
        joins = {"to": "anchor", "anchor": anchor}
    elif kind == "bar":
        _lay_bar(draft, middle, y_axis, x_axis, square=True)
        joins = {"to": "dash bar"}
    else:
        joins = {"to": "plate", "plate": _standing_sheet(draft, made, middle, half)}
    throat = draft.number(2.5, max(3.0, 0.7 * sheet["thickness_mm"]))
    size = {"throat_mm": throat} if draft.chance(0.7) else {"leg_mm": round(1.414 * throat, 1)}
    inset = 0.0 if draft.chance(0.6) else draft.number(1.0, 4.0)
    draft.welds.append(
        {
            "name": name,
            "plate": sheet["name"],
            "from_mm": [-half + inset, made.length],
            "to_mm": [half - inset, made.length],
            "joins": joins,
            "sides": draft.pick(("both", "both", "front", "back")),
            "full_at_ends": draft.chance(0.4),
            "seen_by": "the welder" if draft.chance(0.95) else None,
            **size,
        }
    )


def _standing_sheet(draft: Draft, welded: Strip, middle: Floats, half: float) -> str:
    """Return the name of a new sheet whose front a welded edge stands on, bolted to anchors behind it."""
    x_axis, _, z_axis = in_space(welded.sheet, (0.0, welded.length)).frame.T
    thickness = float(draft.pick(SHEETS_MM[4:]))
    rows = [row_across(draft, draft.count(1, 2)), row_across(draft, draft.count(1, 2))]
    panel = panel_for(draft, rows, bends=0, thickness=thickness)
    # Room between the rows for the edge, and width for all of it.
    panel.rows[1] = (panel.rows[1][0] + 24.0, panel.rows[1][1])
    panel.length += 24.0
    panel.half = max(panel.half, half + 6.0)
    panel.half = round(panel.half, 1)
    made = strip(draft, f"plate {len(draft.sheets) + 1}", [panel], thickness)
    if draft.chance(0.85):
        made.sheet["material"] = welded.sheet["material"]
    between = (panel.rows[0][0] + panel.rows[1][0]) / 2.0
    made.sheet["openings"] = [o for o in made.sheet["openings"] if not o["name"].startswith("free")]
    made.sheet["placement"] = {
        "origin_mm": listed(middle - between * z_axis),
        "x_axis": listed(x_axis),
        "y_axis": listed(z_axis),
        "origin_on": "front",
    }
    draft.sheets.append(made.sheet)
    to_anchors(draft, made, made.rows, "back")
    return str(made.sheet["name"])


def _middle(holes: Sequence[HoleInSpace], side: str) -> tuple[Floats, Floats]:
    faces = [hole.mating(side)[0] for hole in holes]
    return np.mean(faces, axis=0), holes[0].mating(side)[1]


def _spacer(draft: Draft) -> Data | None:
    if not draft.chance(0.1):
        return None
    return {
        "outer_mm": round(1.7 * draft.size.washer_inner_mm, 1),
        "inner_mm": round(draft.size.washer_inner_mm + 0.1, 1),
        "length_mm": draft.number(5.0, 30.0),
        "material": draft.pick(("S235", "S355", "6061-T6")),
    }


def _lay_bar(draft: Draft, face: Floats, out: Floats, along: Floats, *, square: bool = False) -> None:
    """Lay the dash bar along a direction so that its surface touches a face."""
    section = _section(draft)
    if square and section["kind"].startswith("round"):
        section = {"kind": "flat bar", "width_mm": 50.0, "height_mm": 40.0}
    upright = draft.chance(0.5)
    up = out if upright else np.cross(along, out)
    if section["kind"].startswith("round"):
        depth = section["outer_mm"] / 2.0
    else:
        depth = section["height_mm" if upright else "width_mm"] / 2.0
    middle = face + depth * out
    far = 350.0 if draft.stout else 700.0
    left, right = draft.number(250.0, far), draft.number(250.0, far)
    ends = [_end(draft), _end(draft)]
    stays = [_stay(draft, left + right, out) for _ in range(draft.count(0, 2))] if draft.chance(0.3) else []
    draft.bar = {
        "from_mm": listed(middle - left * along),
        "to_mm": listed(middle + right * along),
        "section": section,
        "up": listed(up),
        "material": draft.pick(("S235", "S235", "S355", "A36", "6061-T6", "1.4301")),
        "ends": ends,
        "stays": stays,
    }
    draft.tag(f"bar, {section['kind']}", *(f"bar end {end['kind']}" for end in ends))
    if stays:
        draft.tag("stay of the bar")


def _section(draft: Draft) -> Data:
    kind = draft.pick(
        (
            *("rectangular tube", "rectangular tube", "square tube", "round tube", "round tube"),
            *("round bar", "flat bar", "angle", "channel"),
        )
    )
    wall = float(draft.pick((1.5, 2.0, 3.0, 4.0)))
    if kind in ("round tube", "round bar"):
        outer = draft.number(25.0, 50.0)
        return {"kind": kind, "outer_mm": outer} | ({"wall_mm": wall} if kind == "round tube" else {})
    width, height = draft.number(25.0, 60.0), draft.number(25.0, 60.0)
    if kind == "square tube":
        return {"kind": "rectangular tube", "width_mm": width, "height_mm": width, "wall_mm": wall}
    sizes = {"kind": kind, "width_mm": width, "height_mm": height}
    return sizes | ({} if kind == "flat bar" else {"wall_mm": wall})


def _end(draft: Draft) -> Data:
    kind = draft.pick(
        ("welded",) * (40 if draft.stout else 6)
        + ("bolted flange", "bolted flange", "pinned", "stiffness", "stiffness", "free")
    )
    end: Data = {"kind": kind, "seen_by": "the builder" if draft.chance(0.96) else None}
    if kind == "stiffness" and draft.chance(0.93):
        low = draft.number(20.0, 400.0)
        end["bending_nm_per_deg"] = [low, 3.0 * low]
    return end


def _stay(draft: Draft, length: float, out: Floats) -> Data:
    low = draft.number(500.0, 20000.0)
    return {
        "station_mm": round(float(draft.random.uniform(0.1, 0.9)) * length, 1),
        "direction": listed(out + 0.3 * draft.random.normal(size=3)),
        "stiffness_n_per_mm": [low, 2.0 * low],
        "seen_by": "the builder",
    }
