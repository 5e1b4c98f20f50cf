"""Views as mounted that move together: one camera, one exaggeration, one swing, one stress scale."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from app.compare.shared_view import highest_stress_mpa, shared_camera, shared_factor
from app.mounted.camera import Camera
from app.mounted.stands import Stand
from app.window.mounted_painting import Painting
from app.window.mounted_view import MountedView

_WORDS_PX: Final = 32.0
"""Left free at the top of each picture for its words."""


class TogetherView(MountedView):
    """A view that tells when it is looked at otherwise, and leaves fitting to those it moves with."""

    looked = Signal(object)
    """The camera after it was turned, moved or zoomed by hand."""
    fit_asked = Signal()
    """Everything is to be brought into the picture."""
    resized = Signal()

    def __init__(self, parent: QWidget | None = None, painting: Painting | None = None) -> None:
        super().__init__(parent, painting)
        self.setMinimumSize(160, 120)

    def look(self, camera: Camera) -> None:
        """Look through a camera set by hand, and tell it."""
        super().look(camera)
        self.looked.emit(camera)

    def look_too(self, camera: Camera) -> None:
        """Look through another view's camera; nothing is told."""
        self.scene.camera = replace(camera, size_px=self.scene.camera.size_px)
        self.moving()

    def look_at_all(self) -> None:
        """Ask for everything to be brought into the pictures."""
        self.fit_asked.emit()

    def take_size(self) -> None:
        """Make the scene's picture as large as the widget."""
        wide, high = (max(1, round(side / self.words_scale)) for side in (self.width(), self.height()))
        camera = self.scene.camera
        self.scene.camera = replace(camera.sized(wide, high), mm_per_px=camera.mm_per_px)
        self.resized.emit()
        self.ask()

    def swing_from(self, began_s: float) -> None:
        """Swing in step with all that began at the same time."""
        self.play(on=True)
        self._swing_from = began_s


class Together(QObject):
    """Keeps views alike. It is the view that the row of controls under them knows."""

    def __init__(self, parent: QObject | None = None, closer: float = 1.0) -> None:
        """`closer` fits everything that many times as large, where margins are wider than balloons need."""
        super().__init__(parent)
        self._closer = closer
        self._views: tuple[TogetherView, ...] = ()
        self._factor: float | None = None
        self._by_hand = False

    @property
    def views(self) -> tuple[TogetherView, ...]:
        """Return the views."""
        return self._views

    @property
    def factor(self) -> float:
        """Return what the movement is drawn with in all."""
        return max((view.scene.factor for view in self._views), default=0.0)

    def take(self, views: Sequence[TogetherView]) -> None:
        """Keep these views alike from now on."""
        for view in self._views:
            view.looked.disconnect(self._looked)
            view.fit_asked.disconnect(self.fit)
            view.resized.disconnect(self.fit_if_not_by_hand)
        self._views = tuple(views)
        for view in self._views:
            view.looked.connect(self._looked)
            view.fit_asked.connect(self.fit)
            view.resized.connect(self.fit_if_not_by_hand)
        self.settle()
        self.fit()

    def settle(self) -> None:
        """Give all one stress scale and one exaggeration, after what they show has changed."""
        if not self._views:
            return
        scenes = [view.scene for view in self._views]
        highest = highest_stress_mpa([scene.results for scene in scenes])
        factor = shared_factor(scenes) if self._factor is None else self._factor
        for view in self._views:
            view.scene.share_stress_scale(highest)
            view.set_exaggeration(factor)

    # -- what the controls ask

    @property
    def playing(self) -> bool:
        """Return whether they swing."""
        return any(view.playing for view in self._views)

    def play(self, on: bool) -> None:
        """Let all swing in step, or bring them to rest."""
        began = time.perf_counter()
        for view in self._views:
            if on:
                view.swing_from(began)
            else:
                view.play(on=False)

    def set_exaggeration(self, factor: float | None) -> None:
        """Draw the movement of all times a factor; None is one that suits the one that moves most."""
        self._factor = factor
        self.settle()

    def show_case(self, number: int | None) -> None:
        """Show a load case of the first results, and the case of the same name and state in the others."""
        first = next((v.scene.results for v in self._views if v.scene.results is not None), None)
        wanted = None if number is None or first is None else first.cases[number]
        for view in self._views:
            results = view.scene.results
            same = None
            if wanted is not None and results is not None:
                same = next(
                    (
                        k
                        for k, case in enumerate(results.cases)
                        if (case.name, case.state) == (wanted.name, wanted.state)
                    ),
                    None,
                )
            view.show_case(same)
        self.settle()

    def show_forces(self, on: bool) -> None:
        """Draw the bolts' forces in all, or leave them out."""
        for view in self._views:
            view.show_forces(on)

    def show_map(self, on: bool) -> None:
        """Draw the map of stress in all, or bare metal."""
        for view in self._views:
            view.show_map(on)

    def show_free_motion(self, number: int | None) -> None:
        """Show a free motion in those that have one of that number; the others show how they deflect."""
        for view in self._views:
            results = view.scene.results
            count = 0 if results is None else len(results.free_motions)
            view.show_free_motion(number if number is not None and number < count else None)

    def stand(self, name: Stand) -> None:
        """Look at all from a named stand."""
        if self._views:
            self._views[0].scene.stand(name)
            self.fit()

    def fit(self) -> None:
        """Bring every bracket into its picture, all at one scale."""
        self._by_hand = False
        self.fit_if_not_by_hand()

    def fit_if_not_by_hand(self) -> None:
        """Bring every bracket into its picture, unless somebody has turned to something."""
        if self._by_hand or not self._views:
            return
        scenes = [view.scene for view in self._views]
        smallest = min(self._views, key=lambda view: view.width() * view.height())
        first = replace(scenes[0].camera, size_px=smallest.scene.camera.size_px)
        scenes[0].camera = first
        camera = shared_camera(scenes, _WORDS_PX)
        camera = replace(camera, mm_per_px=camera.mm_per_px / self._closer)
        for view in self._views:
            wide, high = (max(1, round(s / view.words_scale)) for s in (view.width(), view.height()))
            view.scene.camera = replace(camera, size_px=(wide, high))
            view.ask()

    def unpin(self) -> None:
        """Take all labels off."""
        for view in self._views:
            view.unpin()

    # -- inside

    def _looked(self, camera: Camera) -> None:
        self._by_hand = True
        for view in self._views:
            if view is not self.sender():
                view.look_too(camera)
