"""The mounted bracket as a picture: what is shown, how it has moved, from where, what lies under a pixel."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from app.mounted import labels
from app.mounted.assembly import Assembly, Thing, body_points
from app.mounted.bracket_shapes import FieldLook, bracket_shapes
from app.mounted.camera import Camera
from app.mounted.captions import free_motion_words, mounted_words
from app.mounted.contour_words import contour_words
from app.mounted.force_arrows import force_arrows
from app.mounted.frame import Frame
from app.mounted.labels import BalloonLayout, Placed
from app.mounted.motion import (
    SEEN_SHARE,
    Motion,
    automatic_factor,
    deflection,
    most_moving_case,
    movements,
    swing,
)
from app.mounted.overlay import Item
from app.mounted.picking import Picked, picked
from app.mounted.shapes import Body, Floats, Mark, Shapes
from app.mounted.stands import Stand, fitted, fitting_places, stood
from app.theme import PAPER, Theme
from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.placing import BoltPlace, place_bolts
from solver.results import CaseResult, Results

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
        self._seen_share = SEEN_SHARE
        self._phase = np.pi / 2.0
        self._case: int | None = None
        self._forces_on = False
        self._map_on = True
        self._highest_mpa: float | None = None
        self._units: Units = "mm"
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
        if own is None or (self._case is not None and self._case >= len(own.cases)):
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

    def set_free_motion_share(self, share: float) -> None:
        """Draw free motions as large as this share of the bracket's size."""
        self._seen_share = share

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

    def show_case(self, number: int | None) -> None:
        """Show the movement of one of the results' load cases, counted from 0; None the one that moves most.

        IndexError if there is none of that number.
        """
        count = 0 if self.results is None else len(self.results.cases)
        if number is not None and not 0 <= number < count:
            raise IndexError(f"there is no load case {number + 1}: the results have {count}")
        self._case = number
        self._draw()

    def show_map(self, *, on: bool) -> None:
        """Draw the map of stress on the plates, or bare metal."""
        self._map_on = on
        self._draw()

    def share_stress_scale(self, highest_mpa: float | None) -> None:
        """Space contour lines for a stress that other pictures have; None for this one's own."""
        if highest_mpa != self._highest_mpa:
            self._highest_mpa = highest_mpa
            self._draw()

    def set_units(self, units: Units) -> None:
        """Tell stress in MPa or in ksi, on contour lines and in words."""
        if units != self._units:
            self._units = units
            self._draw()

    def show_forces(self, *, on: bool) -> None:
        """Draw the bolts' forces on their plates in the load case shown as arrows, or leave them out."""
        self._forces_on = on

    @property
    def case(self) -> CaseResult | None:
        """Return the load case shown; None where the results hold no movement for each."""
        number = self._case_number()
        return None if self.results is None or number is None else self.results.cases[number]

    @property
    def factor(self) -> float:
        """Return the factor the movement is drawn with."""
        if self._motion is STILL:
            return 0.0
        automatic = automatic_factor(self._motion.largest_mm, self._size_mm())
        if self._free_motion is not None:
            # A free motion has no size of its own; the slider serves what the plates do.
            return self._seen_share * self._size_mm() / max(self._motion.largest_mm, 1e-12)
        return automatic if self._factor is None else self._factor

    def words(self) -> str:
        """Return what the picture shows, in words; a second line where there is more to say."""
        if self.results is None:
            return "as mounted"
        if self._free_motion is not None:
            return free_motion_words(self.results.free_motions[self._free_motion], pencil=self._pencil)
        return mounted_words(
            self.results,
            self.factor,
            self.case,
            forces=self._forces_on,
            pencil=self._pencil,
            stress=self._map_on,
            units=self._units,
        )

    def moved(self, points: Floats, body: Body) -> Floats:
        """Return places (n, 3) of a rigid body where the picture shows them now."""
        return self._motion.moved(points, None, body, self._now())

    # -- from where

    def fit(self) -> None:
        """Bring plates, casing and bolts into the picture."""
        self.camera = fitted(self.camera, self._shapes, self._words_px())

    def places(self) -> Floats:
        """Return the places (n, 3) that fitting brings into the picture."""
        return fitting_places(self._shapes)

    def stand(self, name: Stand) -> None:
        """Look from one of the named stands and fit."""
        plate = self._selected[1] if self._selected is not None and self._selected[0] == "plate" else None
        self.camera = stood(self.camera, name, self.bracket, self._shapes, plate, self._words_px())

    # -- what a painter and a pointer ask

    def frame(self) -> Frame:
        """Return the faces and lines to paint."""
        return self._assembly.frame(self.camera, self._motion, self._now())

    def items(
        self,
        *,
        draft: bool = False,
        caption: bool = True,
        driver: bool = True,
        clear_of: Floats | None = None,
    ) -> list[Item]:
        """Return what goes over the picture; a draft leaves out what takes time to place.

        Balloons stand clear of the places (n, 2) in the picture that others draw over it.
        """
        case = self.case if self._forces_on else None
        arrows, along = force_arrows(
            () if case is None else case.sheets, self.camera, self.theme, self._units
        )
        if clear_of is not None:
            along = np.concatenate([along, clear_of])
        self._layout.settle(
            self._placed("balloon"), self.camera.size_px, along, self._words_px(), anew=not draft
        )
        found = self.balloons()
        if not draft:
            found = [*self._contour_words(found), *found]
        found += arrows
        pins = [(*self.camera.project(at)[0, :2], words) for at, words in self._pins]
        found += labels.pinned([(float(x), float(y), words) for x, y, words in pins], self.theme)
        if driver:
            found += labels.driver_rim(self.camera, self.theme)
        if not caption:
            return found
        return found + labels.caption(self._short_words(), self.theme, italic=self._pencil)

    def balloons(self) -> list[Item]:
        """Return the bolts' balloons where they were last laid; they may be drawn once more over the rest."""
        layout = self._layout
        bolts = [bolt for bolt in self._placed("balloon") if bolt.mark.name in layout.offsets]
        selected = self._selected[1] if self._selected is not None and self._selected[0] == "bolt" else ""
        return labels.balloons(bolts, self.camera, self.theme, layout, selected)

    def pick(self, x_px: float, y_px: float) -> Picked | None:
        """Return what lies under a pixel; what is see-through is picked only where nothing else is."""
        return picked(self._assembly, self.frame(), x_px, y_px)

    def pin(self, at_mm: Floats, words: str) -> None:
        """Leave a label at a place in space."""
        self._pins.append((np.asarray(at_mm, dtype=float), words))

    def unpin(self) -> None:
        """Take all labels off."""
        self._pins.clear()

    # -- inside

    def _draw(self) -> None:
        """Draw every part anew; stress only where the plates move as it was found."""
        solved = self.results if self._free_motion is None else None
        case = self._case_number() if solved is not None else None
        moved = {} if solved is None else movements(solved, case)
        look = None
        if solved is not None:
            look = FieldLook(solved, moved, self._map_on, self._highest_mpa, self._units)
        shown = None if solved is None or case is None else solved.cases[case]
        self._shapes = bracket_shapes(self.bracket, self._places, shown, look)
        self._put_together()
        if self.results is None:
            self._motion = STILL
        elif self._free_motion is not None:
            motion = self.results.free_motions[self._free_motion]
            self._motion = swing(motion, self._places, body_points(self._shapes))
        else:
            self._motion = deflection(self.results, self._places, moved, case)

    def _short_words(self) -> str:
        return labels.words_with_room(self.words(), self.camera.size_px)

    def _words_px(self) -> float:
        return labels.LINE_PX * len(self._short_words().splitlines())

    def _case_number(self) -> int | None:
        if self.results is None:
            return None
        most = most_moving_case(self.results)
        return most if self._case is None or most is None else self._case

    def _put_together(self) -> None:
        self._assembly = Assembly(self._shapes, self.theme, self._selected)

    def _now(self) -> float:
        return float(self.factor * np.sin(self._phase))

    def _size_mm(self) -> float:
        points = self._shapes.points(("plate",))
        return float(np.linalg.norm(np.ptp(points, axis=0))) if len(points) else 100.0

    def _placed(self, style: str) -> list[Placed]:
        marks = [mark for mark in self._shapes.marks if mark.style == style]
        if not marks:
            return []
        seen = self.camera.project(np.array([self._moved_mark(mark) for mark in marks]))
        return [Placed(mark, float(x), float(y)) for mark, (x, y, _) in zip(marks, seen, strict=True)]

    def _moved_mark(self, mark: Mark) -> Floats:
        return self._motion.moved(mark.at_mm, mark.moved, mark.body, self._now())

    def _contour_words(self, taken: list[Item]) -> list[Item]:
        placed = self._placed("contour")
        if not placed:
            return []
        depths = [float(self.camera.project(self._moved_mark(p.mark))[0, 2]) for p in placed]
        return contour_words(placed, depths, self.frame().solid, self.camera, self.theme, taken)
