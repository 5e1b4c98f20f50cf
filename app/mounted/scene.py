"""The mounted bracket as a picture: what is shown, how it has moved, from where, what lies under a pixel."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, Literal

import numpy as np

from app.mounted import labels
from app.mounted.assembly import Assembly, Thing, body_points
from app.mounted.bolt_shapes import bolt_shapes
from app.mounted.camera import Camera
from app.mounted.captions import free_motion_words, mounted_words
from app.mounted.field_shapes import field_shapes
from app.mounted.frame import Frame
from app.mounted.labels import BalloonLayout, Placed
from app.mounted.motion import SEEN_SHARE, Motion, automatic_factor, deflection, swing
from app.mounted.overlay import Item
from app.mounted.picking import Picked, Projection, nearest_line
from app.mounted.plate_shapes import plate_shapes
from app.mounted.shapes import Floats, Mark, Shapes
from app.mounted.surroundings import places_of, surroundings
from app.theme import PAPER, Theme
from geometry.bracket import Bracket
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap
from geometry.placing import BoltPlace, place_bolts
from solver.results import CaseResult, ConnectionSheet, Results

Stand = Literal[
    "aslant", "from the driver", "from the side", "from below", "square to the plate", "whole bar"
]
STANDS: Final[tuple[Stand, ...]] = (
    "aslant", "from the driver", "from the side", "from below", "square to the plate", "whole bar",
)  # fmt: skip
NEAR_PX: Final = 6.0
"""A line is picked from this far."""
SEEN_MM: Final = 0.6
"""A place this little behind a face counts as on it."""
STILL: Final = Motion()


class Scene:
    """One bracket as mounted. Nothing here paints: a painter takes `frame()`, and `items()` go on top."""

    def __init__(self, theme: Theme = PAPER, size_px: tuple[int, int] = (700, 450)) -> None:
        """Make an empty scene."""
        self.camera = Camera(size_px=size_px)
        self.theme = theme
        self.results: Results | None = None
        self.bracket = Bracket()
        self._places: tuple[BoltPlace, ...] = ()
        self._shapes = Shapes()
        self._assembly = Assembly(self._shapes, theme, None)
        self._selected: Thing | None = None
        self._motion = STILL
        self._free_motion: int | None = None
        self._factor: float | None = None
        self._phase = np.pi / 2.0
        self._case: str | None = None
        self._pins: list[tuple[Floats, str]] = []
        self._layout = BalloonLayout()
        self._pencil = False

    def show(self, bracket: Bracket, results: Results | None = None, *, pencil: bool = False) -> None:
        """Show a bracket, with stress and movement where the results are its own.

        Results of another bracket, or of one since changed, are left aside. The camera stays.
        """
        fresh = not self._shapes.surfaces
        own = results if results is not None and results.hash == bracket.input_hash() else None
        self.bracket, self.results, self._pencil = bracket, own, pencil
        self._places = place_bolts(bracket)
        if self._free_motion is not None and (own is None or self._free_motion >= len(own.free_motions)):
            self._free_motion = None
        if own is None:
            self._case = None
        self._draw()
        self.camera = replace(self.camera, rake_deg=bracket.rake_deg or 0.0)
        if fresh:
            self.fit()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another theme."""
        self.theme = theme
        self._put_together()

    def select(self, kind: str | None, name: str = "") -> None:
        """Draw one thing as selected, with heavier lines; None selects nothing."""
        self._selected = None if kind is None else (kind, name)
        self._put_together()

    # -- movement

    def set_exaggeration(self, factor: float | None) -> None:
        """Draw the movement times a factor: 1 is true scale, 0 at rest, None a round factor well seen."""
        self._factor = factor

    def set_phase(self, radians: float) -> None:
        """Set where in its swing the movement is: pi / 2 is full, 0 at rest, -pi / 2 full the other way."""
        self._phase = radians

    def show_free_motion(self, number: int | None) -> None:
        """Show one of the results' free motions, counted from 0, in place of the deflection; None ends it.

        IndexError if there is none of that number.
        """
        if number is not None:
            count = 0 if self.results is None else len(self.results.free_motions)
            if not 0 <= number < count:
                raise IndexError(f"there is no free motion {number + 1}: the results have {count}")
        self._free_motion = number
        self._draw()

    def show_case(self, name: str | None, state: str = "stuck") -> None:
        """Draw the forces that the bolts put on their plates in a load case and state; None draws none.

        KeyError if the results have no such case.
        """
        if name is not None and self._case_of(name, state) is None:
            raise KeyError(f"the results have no load case {name!r} with bolts {state}: take one of theirs")
        self._case = None if name is None else f"{state}/{name}"

    @property
    def factor(self) -> float:
        """Return the factor the movement is drawn with."""
        if self._motion is STILL:
            return 0.0
        automatic = automatic_factor(self._motion.largest_mm, self._size_mm())
        if self._free_motion is not None:
            # A free motion has no size of its own; the slider serves what the plates do.
            return SEEN_SHARE * self._size_mm() / max(self._motion.largest_mm, 1e-12)
        return automatic if self._factor is None else self._factor

    def words(self) -> str:
        """Return what the picture shows, in words; a second line where there is more to say."""
        if self.results is None:
            return "as mounted"
        if self._free_motion is not None:
            return free_motion_words(self.results.free_motions[self._free_motion], pencil=self._pencil)
        return mounted_words(self.results, self.factor, self._shown_case(), pencil=self._pencil)

    # -- from where

    def fit(self) -> None:
        """Bring plates, casing and bolts into the picture."""
        points = self._shapes.points(("plate", "casing", "bolt", "boss", "anchor"))
        if len(points) == 0:
            points = self._shapes.points()
        self.camera = self.camera.fitted(points)

    def stand(self, name: Stand) -> None:
        """Look from one of the named stands and fit."""
        rake = np.radians(self.camera.rake_deg)
        ways: dict[Stand, Floats] = {
            "from the driver": np.array([0.0, 0.0, 1.0]),
            "from the side": np.array([1.0, 0.0, 0.0]),
            "from below": -np.array([0.0, np.cos(rake), np.sin(rake)]),
            "square to the plate": self._plate_normal(),
        }
        if name in ways:
            self.camera = self.camera.standing(ways[name])
        else:
            self.camera = replace(self.camera, azimuth_deg=-32.0, elevation_deg=22.0)
        self.fit()
        if name == "whole bar":
            lines = places_of(("dash bar", "anchor", "wheel", "shaft"), self._shapes)
            self.camera = self.camera.fitted(np.concatenate([self._shapes.points(), lines]))

    # -- what a painter and a pointer ask

    def frame(self) -> Frame:
        """Return the faces and lines to paint."""
        return self._assembly.frame(self.camera, self._motion, self._now())

    def items(self, *, draft: bool = False) -> list[Item]:
        """Return what goes over the picture; a draft leaves out what takes time to place."""
        bolts = self._placed("balloon")
        selected = self._selected[1] if self._selected is not None and self._selected[0] == "bolt" else ""
        found = labels.balloons(bolts, self.camera, self.theme, self._layout, selected, anew=not draft)
        if not draft:
            found = [*self._contour_words(found), *found]
        found += self._forces()
        pins = [(*self.camera.project(at)[0, :2], words) for at, words in self._pins]
        found += labels.pinned([(float(x), float(y), words) for x, y, words in pins], self.theme)
        found += labels.driver_rim(self.camera, self.theme)
        return found + labels.caption(self.words(), self.theme, italic=self._pencil)

    def pick(self, x_px: float, y_px: float) -> Picked | None:
        """Return what lies under a pixel; what is see-through is picked only where nothing else is."""
        frame = self.frame()
        for faces, surfaces in (
            (frame.solid, self._assembly.solid),
            (frame.see_through, self._assembly.see_through),
        ):
            hit = Projection(self.camera, faces.points, faces.triangles).hit(x_px, y_px)
            if hit is None:
                continue
            ends = np.cumsum([len(s.triangles) for s in surfaces])
            number = int(np.searchsorted(ends, hit.triangle, side="right"))
            surface = surfaces[number]
            corners = surface.triangles[hit.triangle - (ends[number - 1] if number else 0)]
            at = hit.shares @ faces.points[faces.triangles[hit.triangle]]
            value = None if surface.values is None else float(hit.shares @ surface.values[corners])
            return Picked(surface.kind, surface.name, at, value)
        for line in self._shapes.lines:
            if line.kind in ("wheel", "shaft") and len(line.ends):
                _, off, at = nearest_line(self.camera, line.ends, x_px, y_px)
                if off <= NEAR_PX:
                    return Picked(line.kind, line.name, at, None)
        return None

    def pin(self, at_mm: Floats, words: str) -> None:
        """Leave a label at a place in space."""
        self._pins.append((np.asarray(at_mm, dtype=float), words))

    def unpin(self) -> None:
        """Take all labels off."""
        self._pins.clear()

    # -- inside

    def _draw(self) -> None:
        """Draw every part anew; stress only where the plates move as it was found."""
        fields = {} if self.results is None else {field.plate: field for field in self.results.plates}
        shapes = surroundings(self.bracket, self._places) + bolt_shapes(self.bracket, self._places)
        for plate in self.bracket.plates:
            field = fields.get(plate.name) if self._free_motion is None else None
            shapes += plate_shapes(plate) if field is None else field_shapes(field, plate)
        self._shapes = shapes
        self._put_together()
        self._find_motion()

    def _put_together(self) -> None:
        self._assembly = Assembly(self._shapes, self.theme, self._selected)

    def _find_motion(self) -> None:
        if self.results is None:
            self._motion = STILL
        elif self._free_motion is not None:
            motion = self.results.free_motions[self._free_motion]
            self._motion = swing(motion, self._places, body_points(self._shapes))
        else:
            self._motion = deflection(self.results, self._places)

    def _now(self) -> float:
        return float(self.factor * np.sin(self._phase))

    def _size_mm(self) -> float:
        points = self._shapes.points(("plate",))
        return float(np.linalg.norm(np.ptp(points, axis=0))) if len(points) else 100.0

    def _plate_normal(self) -> Floats:
        selected = self._selected[1] if self._selected is not None and self._selected[0] == "plate" else None
        plates = [p for p in self.bracket.plates if selected in (None, p.name)] or list(self.bracket.plates)
        if not plates:
            return np.array([0.0, 0.0, 1.0])
        try:
            fold_map = FoldMap(plates[0])
        except ShapeError:
            return np.array([0.0, 0.0, 1.0])
        return np.asarray(fold_map.axes[:, 2])

    def _placed(self, style: str) -> list[Placed]:
        marks = [mark for mark in self._shapes.marks if mark.style == style]
        if not marks:
            return []
        seen = self.camera.project(np.array([self._moved_mark(mark) for mark in marks]))
        return [Placed(mark, float(x), float(y)) for mark, (x, y, _) in zip(marks, seen, strict=True)]

    def _moved_mark(self, mark: Mark) -> Floats:
        return self._motion.moved(mark.at_mm, mark.moved, mark.body, self._now())

    def _contour_words(self, taken: list[Item]) -> list[Item]:
        """Return the values of contour lines that face the eye with nothing before them."""
        placed = self._placed("contour")
        if not placed:
            return []
        faces = self.frame().solid
        projection = Projection(self.camera, faces.points, faces.triangles)
        kept, ways = [], []
        for p in placed:
            depth = float(self.camera.project(self._moved_mark(p.mark))[0, 2])
            hit = projection.hit(p.x_px, p.y_px)
            if p.mark.along is None or (hit is not None and hit.depth_mm > depth + SEEN_MM):
                continue
            right, up, _ = self.camera.axes @ p.mark.along
            kept.append(p)
            ways.append(float((np.degrees(np.arctan2(up, right)) + 90.0) % 180.0 - 90.0))
        return labels.contour_words(kept, ways, self.theme, taken)

    def _case_of(self, name: str, state: str) -> CaseResult | None:
        cases = () if self.results is None else self.results.cases
        return next((case for case in cases if (case.name, case.state) == (name, state)), None)

    def _shown_case(self) -> CaseResult | None:
        if self._case is None:
            return None
        state, _, name = self._case.partition("/")
        return self._case_of(name, state)

    def _forces(self) -> list[Item]:
        case = self._shown_case()
        sheets: tuple[ConnectionSheet, ...] = () if case is None else case.sheets
        forces = np.array([sheet.force_n for sheet in sheets]).reshape(-1, 3)
        sizes = np.linalg.norm(forces, axis=1)
        if len(sheets) == 0 or not sizes.max() > 0.0:
            return []
        at = np.array([sheet.at_mm for sheet in sheets])
        tips = self.camera.project(at)[:, :2]
        ways = (forces @ self.camera.axes[:2].T) * np.array([1.0, -1.0])
        tails = tips - ways * (labels.ARROW_PX / sizes.max())
        return labels.force_arrows(tails, tips, [float(size) for size in sizes], self.theme)
