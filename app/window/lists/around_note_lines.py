"""What stands around the bracket as numbered sentences whose values are fields. No Qt."""

from __future__ import annotations

from collections.abc import Iterator

from app.window.lists.field import Drafts, Field, Kind, Line, Path, Piece
from geometry.bracket import Bracket
from geometry.installation import Cable, Collapse, Room, ShaftLine, Wiring
from geometry.tube_clamp import TubeClamp

_YES_NO = ("yes", "no")
_STEM: Path = ("installation",)
_SHAFT: Path = (*_STEM, "shaft")
_WIRING: Path = (*_STEM, "wiring")
_COLLAPSE: Path = (*_STEM, "collapse")
_ROOM: Path = (*_STEM, "room")
_CLAMPS: Path = (*_STEM, "clamps")


def around_note_lines(bracket: Bracket, drafts: Drafts) -> tuple[Line, ...]:
    """Return a line for everything that can be said around a bracket, numbered."""
    around = bracket.installation
    lines = [
        *_shaft(around.shaft or ShaftLine(), drafts),
        *_wiring(around.wiring or Wiring()),
        *_collapse(around.collapse or Collapse(), drafts),
        *_clamps(around.clamps, drafts),
        *_room(around.room or Room(), drafts),
    ]
    return tuple(Line(line.key, line.pieces, number) for number, line in enumerate(lines, start=1))


def _field(
    path: Path, spoken: str, value: object, kind: Kind = "quantity", unit: str = "", **more: object
) -> Field:
    return Field((path,), spoken, value, kind, unit, may_be_empty=True, **more)  # type: ignore[arg-type]


def _choice(path: Path, spoken: str, value: object, choices: tuple[str, ...] = _YES_NO) -> Field:
    return Field((path,), spoken, value, "choice", choices=choices, may_be_empty=True)


def _shaft(line: ShaftLine, drafts: Drafts) -> Iterator[Line]:
    places = _field((*_SHAFT, "places_mm"), "places along the shaft", line.places_mm or None, "places", "mm")
    yield Line(
        "shaft places",
        ("Shaft, from the wheel on, its two ends and every joint between, each as x y z: ", places, "."),
    )
    for joint in line.joints:
        stem: Path = (*_SHAFT, "joints", joint.name)
        pieces: list[Piece] = ["Shaft joint ", _name(stem, "shaft joint", joint.name)]
        if not line.places_mm:
            pieces += [
                " bends ",
                _field(
                    (*stem, "angle_deg"), f"angle of shaft joint {joint.name}", joint.angle_deg, unit="deg"
                ),
                " toward ",
                _field(
                    (*stem, "plane_deg"),
                    f"direction of shaft joint {joint.name}",
                    joint.plane_deg,
                    unit="deg",
                ),
            ]
        pieces += [
            ", its maker allows ",
            _field(
                (*stem, "most_angle_deg"),
                f"largest angle of shaft joint {joint.name}",
                joint.most_angle_deg,
                unit="deg",
            ),
        ]
        if joint is not line.joints[0]:
            spoken = f"how far the yoke of shaft joint {joint.name} is turned from the last one's"
            pieces += [
                "; its yoke is turned ",
                _field((*stem, "phase_deg"), spoken, joint.phase_deg, unit="deg"),
            ]
        yield Line(f"joint {joint.name}", (*pieces, "."))
    if not line.places_mm:
        yield _another("joint", "Another shaft joint: ", (*_SHAFT, "joints", "+"), drafts, ())
    sliding = _choice(
        (*_SHAFT, "sliding_joint"), "whether a sliding joint takes up length", line.sliding_joint
    )
    yield Line("sliding", ("A sliding joint between casing and steering box takes up length: ", sliding, "."))


def _wiring(wiring: Wiring) -> Iterator[Line]:
    yield Line(
        "current",
        (
            "The unit draws at most ",
            _field((*_WIRING, "current_a"), "current of the unit", wiring.current_a, "number"),
            " A; feed ",
            *_cable((*_WIRING, "feed"), "feed", wiring.feed),
            "; return ",
            *_cable((*_WIRING, "back"), "return", wiring.back),
            ".",
        ),
    )
    yield Line(
        "insulation",
        (
            "Insulation bears ",
            _field((*_WIRING, "insulation_c"), "what the insulation bears", wiring.insulation_c, "number"),
            " C; ",
            _field((*_WIRING, "bundled"), "loaded cables side by side", wiring.bundled, "whole number"),
            " loaded cables side by side, in air of ",
            Field((((*_WIRING, "ambient_c")),), "air round the cable", wiring.ambient_c, "number"),
            " C.",
        ),
    )
    yield Line(
        "fuse",
        (
            "Fuse ",
            _field((*_WIRING, "fuse_a"), "fuse", wiring.fuse_a, "number"),
            " A, ",
            _field((*_WIRING, "fuse_kind"), "kind of fuse and where it sits", wiring.fuse_kind, "words"),
            "; earth at ",
            _field((*_WIRING, "earth_point"), "where the return goes to earth", wiring.earth_point, "words"),
            ". In the donor ",
            _field((*_WIRING, "donor", "area_mm2"), "cable of the donor", wiring.donor.area_mm2, "number"),
            " mm2 and a fuse of ",
            _field((*_WIRING, "donor", "fuse_a"), "fuse of the donor", wiring.donor.fuse_a, "number"),
            " A.",
        ),
    )


def _cable(stem: Path, name: str, cable: Cable) -> list[Piece]:
    pieces: list[Piece] = [
        _field((*stem, "length_m"), f"length of the {name}", cable.length_m, "number"),
        " m of ",
        _field((*stem, "area_mm2"), f"cross-section of the {name}", cable.area_mm2, "number"),
        " mm2",
    ]
    if cable.area_mm2 is None:
        pieces += [
            " or gauge ",
            _field((*stem, "gauge"), f"gauge of the {name}", cable.gauge, "whole number"),
        ]
    return pieces


def _collapse(collapse: Collapse, drafts: Drafts) -> Iterator[Line]:
    for part in collapse.parts:
        stem: Path = (*_COLLAPSE, "parts", part.name)
        yield Line(
            f"part {part.name}",
            (
                "Part ",
                _name(stem, "part", part.name),
                " from station ",
                Field(((*stem, "stations_mm"),), f"stations of {part.name}", part.stations_mm, "range", "mm"),
                ": in a crash it is ",
                _choice(
                    (*stem, "moves"), f"what {part.name} does in a crash", part.moves, ("slides", "fixed")
                ),
                ", gripped by bracket or casing: ",
                _choice((*stem, "held_by_bracket"), f"whether {part.name} is gripped", part.held_by_bracket),
                ".",
            ),
        )
    stem = (*_COLLAPSE, "parts", "+")
    yield _another(
        "part",
        "Another part of column or shaft: ",
        stem,
        drafts,
        (
            (
                " from station ",
                _field(
                    (*stem, "stations_mm"), "its stations", drafts.get((*stem, "stations_mm")), "range", "mm"
                ),
            ),
        ),
    )
    yield Line(
        "travel",
        (
            "The column can still slide ",
            _field((*_COLLAPSE, "travel_mm"), "travel left", collapse.travel_mm, unit="mm"),
            "; in the donor ",
            _field(
                (*_COLLAPSE, "donor_travel_mm"), "travel in the donor", collapse.donor_travel_mm, unit="mm"
            ),
            ".",
        ),
    )


def _clamps(clamps: tuple[TubeClamp, ...], drafts: Drafts) -> Iterator[Line]:
    for clamp in clamps:
        stem: Path = (*_CLAMPS, clamp.name)
        of = f"of clamp {clamp.name}"
        yield Line(
            f"clamp {clamp.name}",
            (
                "Clamp ",
                _name(stem, "clamp", clamp.name),
                " round the column's tube, from station ",
                Field(((*stem, "stations_mm"),), f"stations {of}", clamp.stations_mm, "range", "mm"),
                ", tube ",
                _field((*stem, "tube_mm"), f"tube {of}", clamp.tube_mm, unit="mm"),
                " across; bolts ",
                _field((*stem, "bolts"), f"bolts {of}", clamp.bolts, "whole number"),
                ", each drawn with ",
                _field((*stem, "preload_n"), f"preload {of}", clamp.preload_n, "range", "N"),
                "; friction ",
                Field(((*stem, "friction", 0),), f"least friction {of}", clamp.friction[0], "number"),
                " to ",
                Field(((*stem, "friction", 1),), f"most friction {of}", clamp.friction[1], "number"),
                ".",
            ),
        )
    stem = (*_CLAMPS, "+")
    stations = _field(
        (*stem, "stations_mm"), "its stations", drafts.get((*stem, "stations_mm")), "range", "mm"
    )
    yield _another(
        "clamp", "Another clamp round the column's tube: ", stem, drafts, ((" from station ", stations),)
    )


def _room(room: Room, drafts: Drafts) -> Iterator[Line]:
    for block in room.kept_clear:
        stem: Path = (*_ROOM, "kept_clear", block.name)
        yield Line(
            f"clear {block.name}",
            (
                "Stays clear: ",
                _name(stem, "block kept clear", block.name),
                " from ",
                Field(((*stem, "low_mm"),), f"lower corner of {block.name}", block.low_mm, "place", "mm"),
                " to ",
                Field(((*stem, "high_mm"),), f"upper corner of {block.name}", block.high_mm, "place", "mm"),
                ".",
            ),
        )
    stem = (*_ROOM, "kept_clear", "+")
    corners = (
        (
            " from x y z ",
            _field((*stem, "low_mm"), "its lower corner", drafts.get((*stem, "low_mm")), "place", "mm"),
        ),
        (
            " to ",
            _field((*stem, "high_mm"), "its upper corner", drafts.get((*stem, "high_mm")), "place", "mm"),
        ),
    )
    yield _another("clear", "Another block that stays clear: ", stem, drafts, corners)
    looked = _field(
        (*_ROOM, "looked_at"), "who looked for all that has to stay clear", room.looked_at, "words"
    )
    yield Line("looked", ("Looked under the dash for all of it: ", looked, "."))
    pieces: list[Piece] = [
        "The column tilts ",
        _field((*_ROOM, "tilt_deg"), "least and greatest tilt", room.tilt_deg, "range", "deg"),
    ]
    if room.tilt_deg is not None and room.tilt_deg != (0.0, 0.0):
        pieces += [
            " about x y z ",
            _field((*_ROOM, "pivot_mm"), "point the column tilts about", room.pivot_mm, "place", "mm"),
            "; casing and bracket go with it: ",
            _choice((*_ROOM, "casing_tilts"), "whether casing and bracket tilt", room.casing_tilts),
            "; column ",
            _field(
                (*_ROOM, "column_diameter_mm"), "diameter of the column", room.column_diameter_mm, unit="mm"
            ),
        ]
    yield Line("tilt", (*pieces, "."))


def _name(stem: Path, what: str, name: str) -> Field:
    return _field((*stem, "name"), f"name of the {what}; emptied, it is taken out", name, "words")


def _another(key: str, words: str, stem: Path, drafts: Drafts, more: tuple[tuple[str, Field], ...]) -> Line:
    name = _field((*stem, "name"), f"name of another {key}", drafts.get((*stem, "name")), "words")
    return Line(f"another {key}", (words, name, *(piece for pair in more for piece in pair), "."))
