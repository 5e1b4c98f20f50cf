"""From a plate and its footprints to a solid mesh."""

from __future__ import annotations

import contextlib
import dataclasses
import math
from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from geometry.bend_zones import FoldedPattern, folded_pattern
from geometry.doubled_layers import doubled_at
from geometry.flat_pattern import CORNER_REACH, FlatPattern, flat_pattern
from geometry.flat_segments import FULL_TURN, Arc, Edge, Line, Loop
from geometry.fold_map import FoldMap
from geometry.footprint import FACES, Footprint, judged_name, merged_radii, ring_name
from geometry.mesh_bulges import crowded
from geometry.mesh_foreseen import unknowns_foreseen
from geometry.mesh_gmsh import MeshError, triangulate
from geometry.mesh_lines import (
    BESIDE_SHARE,
    CIRCLE_LEAST,
    LEAST_PER_QUARTER,
    DividedLines,
    Ints,
    MeshLine,
    clip_circle,
    divide,
)
from geometry.mesh_patches import OUTLINE, circle_name, line_nodes, patches
from geometry.mesh_size import (
    MeshSize,
    SizeField,
    default_size_mm,
    inside_arcs,
    least_per_quarter,
    mesh_size,
)
from geometry.mesh_uncrossed import uncrossed
from geometry.plate import Plate
from geometry.size_grid import size_grid
from geometry.solid_mesh import Floats, SolidMesh, least_jacobian, tet_quality
from geometry.sweep import FlatTriangles, sweep, with_middles
from geometry.wanted import still_wanted
from geometry.weld_lines import cut_at_welds, judged_lines, weld_sizes
from geometry.weld_mark import WeldMark

TRIES: Final = (1.0, 0.7, 0.5)
"""Shares of the size tried in turn: short chords keep clear of each other where arcs are close."""
CORNER_LEAST: Final = 10
"""Elements round that circle if it were whole, at least."""
BEND_STRETCH: Final = 6.0
"""Size along a bend over the width of its strips: nothing changes fast along it."""
LEAST_STRIP_SHARE: Final = 0.2
"""Refinement never makes strips narrower than this share of those of the first mesh."""
FINER_FROM: Final = 0.85
"""Strips stay as they are until a size below this share of the usual one is asked for."""
_SHARES: Final = np.linspace(0.0, 1.0, 33)
OUTER_ARC_PER_QUARTER: Final = 2
"""Elements along each quarter turn of an outward radius, at least: no stress gathers there."""

_BendLine = tuple[Line, float]
Foreseen = Callable[[int], None]


def mesh_plate(
    plate: Plate,
    footprints: Sequence[Footprint] = (),
    size_mm: float | None = None,
    *,
    layers: int = 1,
    double_bends: bool = False,
    size_field: SizeField | None = None,
    welds: Sequence[WeldMark] = (),
    foreseen: Foreseen | None = None,
) -> SolidMesh:
    """Return the plate's mesh, folded and placed in space.

    `size_mm` is the size far from anything (None takes a sensible one); `size_field` asks for less where it
    says so. `foreseen` is told about how many unknowns there will be before anything is meshed; what it
    raises ends it. ShapeError if the plate cannot be made, MeshError if it cannot be meshed.

    With `double_bends` there is one layer in a plate that bends, and two in its bends, a thickness beside
    them and in footprints, where the stress does not run straight from face to face.
    """
    if layers < 1:
        raise ValueError(f"a mesh needs one layer or more, not {layers}")
    pattern = flat_pattern(plate)
    folded = folded_pattern(plate, pattern)
    far = default_size_mm(pattern) if size_mm is None else size_mm
    if not (math.isfinite(far) and far > 0.0):
        raise ValueError(f"a mesh size of {size_mm} mm cannot be used: give a size above zero")
    bends = _strip_lines(folded)
    along = [*bends, *weld_sizes(welds)]
    size = mesh_size(pattern, footprints, plate.thickness_mm, far, along, size_field)
    if size.wanted is not None:
        bends = _strip_lines(folded, dataclasses.replace(size, wanted=None), size)
    inner, radii, clipped = _inner_lines(plate, footprints, folded, [line for line, _ in bends])
    layers_drawn = 0 if double_bends and folded.zones else layers
    beside = BESIDE_SHARE * plate.thickness_mm
    inner += judged_lines(welds, folded, [line.edge for line in inner], beside)
    drawn = _Drawn(
        plate, tuple(footprints), folded, tuple(inner), radii, frozenset(clipped), layers_drawn, tuple(welds)
    )
    still_wanted()
    for share in TRIES[:-1]:
        with contextlib.suppress(MeshError):
            return _meshed(drawn, dataclasses.replace(size, share=share), foreseen)
    return _meshed(drawn, dataclasses.replace(size, share=TRIES[-1]), foreseen)


@dataclasses.dataclass(frozen=True)
class _Drawn:
    """All that is drawn before the size is settled."""

    plate: Plate
    footprints: tuple[Footprint, ...]
    folded: FoldedPattern
    inner: tuple[MeshLine, ...]
    radii_mm: dict[str, float]
    clipped: frozenset[str]
    layers: int
    """Nought for one, and two in bends and footprints."""
    welds: tuple[WeldMark, ...]


def _meshed(drawn: _Drawn, size: MeshSize, foreseen: Foreseen | None) -> SolidMesh:
    plate, footprints, folded, layers = drawn.plate, drawn.footprints, drawn.folded, drawn.layers
    pattern = folded.pattern
    outline = cut_at_welds(pattern.outline, drawn.welds)
    loops = {OUTLINE: outline} | {f"wall {name}": loop for name, loop in pattern.openings.items()}
    leasts = _leasts(pattern, outline, footprints)
    divided = divide(loops, leasts, drawn.inner, pattern.polygon, size.at, plate.thickness_mm)
    lines = uncrossed(divided)
    if lines is None:
        raise MeshError(
            f"plate {plate.name}: lines of its mesh cross; look for edges or openings that all but touch"
        )
    grid = size_grid(lines.points, size.at)
    if foreseen is not None:
        foreseen(unknowns_foreseen(lines, grid, pattern.polygon, layers))
    still_wanted()
    vertices, triangles = triangulate(lines, grid, size.at, plate.name)
    flat = _curved(with_middles(vertices, triangles), lines, plate.name)
    still_wanted()
    doubled = None if layers else doubled_at(vertices, folded, footprints, plate.thickness_mm)
    swept = sweep(flat, plate.thickness_mm, layers, doubled)
    points = FoldMap(plate, folded).to_space(swept.points, swept.first_over)
    still_wanted()
    quality = _checked_quality(points, swept.tets, plate.name)
    return SolidMesh(
        points=points,
        tets=swept.tets,
        patches=patches(plate, footprints, folded, flat, lines, swept, doubled),
        flat_points=swept.points,
        n_flat=len(flat.points),
        levels=swept.levels,
        lattice=swept.lattice,
        n_flat_vertices=flat.n_vertices,
        flat_triangles=flat.triangles,
        tet_triangle=swept.standing_on,
        flat_size_mm=size.at(vertices),
        lines=line_nodes(footprints, plate.thickness_mm, flat, lines, swept),
        line_radii_mm=drawn.radii_mm,
        clipped=drawn.clipped,
        least_quality=quality,
    )


def _strip_lines(
    folded: FoldedPattern, usual: MeshSize | None = None, asked: MeshSize | None = None
) -> list[_BendLine]:
    """Return the lines of all bends with the size along each.

    Where a size below the usual one is asked for along a bend, its strips are made narrower in proportion.
    """
    found: list[_BendLine] = []
    for zone in folded.zones:
        strips = zone.strips
        if usual is not None and asked is not None:
            places = np.concatenate([line.at(_SHARES) for line in folded.strip_lines(zone)])
            share = max(float(np.min(asked.at(places) / usual.at(places))), LEAST_STRIP_SHARE)
            strips = math.ceil(strips / share - 0.1) if share < FINER_FROM else strips
        size = BEND_STRETCH * zone.width_mm / strips
        found.extend((line, size) for line in folded.strip_lines(zone, strips))
    return found


def _leasts(pattern: FlatPattern, outline: Loop, footprints: Sequence[Footprint]) -> dict[str, list[int]]:
    hollow = set(map(id, inside_arcs(pattern)))
    per = {
        OUTLINE: [_least(e, LEAST_PER_QUARTER if id(e) in hollow else OUTER_ARC_PER_QUARTER) for e in outline]
    }
    for name, loop in pattern.openings.items():
        per[f"wall {name}"] = [_least(e, least_per_quarter(e, footprints)) for e in loop]
    return per


def _least(edge: Edge, per_quarter: int) -> int:
    return (
        math.ceil(per_quarter * abs(edge.turn_rad) / (FULL_TURN / 4.0) - 1e-9) if isinstance(edge, Arc) else 1
    )


def _inner_lines(
    plate: Plate, footprints: Sequence[Footprint], folded: FoldedPattern, bends: Sequence[Line]
) -> tuple[list[MeshLine], dict[str, float], set[str]]:
    """Bend lines and circles; radii of the judged circles; names of what was clipped."""
    inner = [MeshLine(line, "bend") for line in bends]
    beside = BESIDE_SHARE * plate.thickness_mm
    radii: dict[str, float] = {}
    clipped: set[str] = set()
    drawn: list[Edge] = []
    for footprint in footprints:
        merged = merged_radii(footprint, plate.thickness_mm)
        names: dict[float, list[str]] = {merged[footprint.hole_radius_mm]: []}
        for face in FACES:
            if footprint.outer_mm(face) <= 0.0:
                continue
            for radius in (footprint.inner_mm(face), footprint.outer_mm(face)):
                names.setdefault(merged[radius], []).append(ring_name(footprint.name, face))
            for number, radius in enumerate(footprint.judged_mm(face, plate.thickness_mm)):
                name = judged_name(footprint.name, face, number)
                radii[name] = merged[radius]
                names.setdefault(merged[radius], []).append(name)
        panel = folded.panel_at(footprint.centre_mm)
        others = list(drawn)
        for radius, named in names.items():
            if radius == merged[footprint.hole_radius_mm]:
                continue
            parts, cut = clip_circle(Arc(footprint.centre_mm, radius, 0.0, FULL_TURN), panel, others, beside)
            inner.extend(
                MeshLine(part, circle_name(footprint, radius), _share_of_circle(part, CIRCLE_LEAST), panel)
                for part in parts
            )
            drawn.extend(parts)
            clipped.update(named if cut else ())
    for corner in folded.pattern.sharp_inside_corners():
        circle = Arc(corner.at_mm, CORNER_REACH * plate.thickness_mm, 0.0, FULL_TURN)
        panel = folded.panel_at(corner.at_mm)
        parts, _ = clip_circle(circle, panel, drawn, beside)
        inner.extend(MeshLine(part, "corner", _share_of_circle(part, CORNER_LEAST), panel) for part in parts)
    return inner, radii, clipped


def _share_of_circle(arc: Arc, least: int) -> int:
    return math.ceil(least * abs(arc.turn_rad) / FULL_TURN - 1e-9)


def _curved(flat: FlatTriangles, lines: DividedLines, name: str) -> FlatTriangles:
    """Move the middles of stretches of arcs onto the arcs, where the triangles beside them have room."""
    try:
        flat.middles(lines.inner)
        middle = flat.middles(np.array(list(lines.arcs), dtype=np.int64).reshape(-1, 2))
    except KeyError as fault:
        raise MeshError(
            f"plate {name}: its mesh does not follow its lines; look for edges or openings that all but touch"
        ) from fault
    if not lines.arcs:
        return flat
    stretches = np.array(list(lines.arcs), dtype=np.int64)
    centre = np.array([arc.centre for arc in lines.arcs.values()])
    radius = np.array([arc.radius_mm for arc in lines.arcs.values()])
    a, b = (flat.points[stretches[:, k]] - centre for k in (0, 1))
    on_arc = np.maximum(*(np.abs(np.hypot(p[:, 0], p[:, 1]) - radius) for p in (a, b))) < 1e-6
    outward = a + b
    length = np.hypot(outward[:, 0], outward[:, 1])
    on_arc &= length > 1e-3 * radius
    on_arc &= ~crowded(lines, flat.points[: flat.n_vertices], flat.triangles[:, :3])
    points = flat.points.copy()
    moved = centre + radius[:, None] * outward / np.maximum(length, 1e-300)[:, None]
    points[middle[on_arc]] = moved[on_arc]
    return FlatTriangles(points, flat.triangles, flat.n_vertices, flat.edge_keys)


def _checked_quality(points: Floats, tets: Ints, name: str) -> float:
    if (least_jacobian(points, tets) <= 0.0).any():
        raise MeshError(
            f"plate {name}: its mesh turns inside out; look for edges or openings that all but touch"
        )
    return float(tet_quality(points, tets).min())
