"""Paint frames with VTK, off-screen. The one file that knows VTK; import it late: it takes half a second."""

from __future__ import annotations

import sys
import threading
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from vtkmodules import vtkRenderingOpenGL2
from vtkmodules.util import numpy_support
from vtkmodules.vtkCommonCore import vtkPoints, vtkUnsignedCharArray
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkMapper,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
)

from app.mounted.frame import Drawn, Faces, Frame, Image
from app.mounted.look import SEE_THROUGH
from app.mounted.shapes import Floats

_ARRAYS: Final[Any] = numpy_support
SAMPLES: Final = 4
"""Samples of each pixel, for smooth edges."""


class Canvas:
    """A picture off-screen; its arrays go to the renderer only when they are others than before."""

    def __init__(self) -> None:
        """Make the window nobody sees; only the thread that makes it can draw there."""
        self._thread = threading.current_thread()
        vtkMapper.SetResolveCoincidentTopologyToPolygonOffset()
        self._window = _window()
        self._window.SetOffScreenRendering(1)
        self._window.SetMultiSamples(SAMPLES)
        self._renderer = vtkRenderer()
        self._renderer.GetActiveCamera().ParallelProjectionOn()
        self._window.AddRenderer(self._renderer)
        self._solid = _Layer(self._renderer, lit_through=False)
        self._see_through = _Layer(self._renderer, lit_through=True)
        self._lines: dict[str, _Layer] = {}
        self._bytes = vtkUnsignedCharArray()

    def paint(self, frame: Frame, scale: float, *, draft: bool = False) -> Image:
        """Return the image, `scale` image pixels for each of the camera's; a draft has rough edges.

        Without a graphics card smooth edges take most of the time. RuntimeError in another thread than its
        own, where OpenGL would leave the picture painted before.
        """
        if threading.current_thread() is not self._thread:
            raise RuntimeError("a canvas was asked to paint in a thread that did not make it")
        samples = 0 if draft else SAMPLES
        if self._window.GetMultiSamples() != samples:
            self._window.SetMultiSamples(samples)
        width, height = (max(1, round(size * scale)) for size in frame.camera.size_px)
        self._window.SetSize(width, height)
        self._renderer.SetBackground(*(part / 255.0 for part in frame.ground))
        self._solid.show_faces(frame.solid)
        self._see_through.show_faces(frame.see_through)
        for name in frame.lines.keys() | self._lines.keys():
            if name not in self._lines:  # a layer that is made stands in the renderer for good
                self._lines[name] = _Layer(self._renderer, lit_through=False)
            self._lines[name].show_lines(frame.lines.get(name), scale)
        self._look(frame)
        self._window.Render()
        self._window.GetPixelData(0, 0, width - 1, height - 1, 0, self._bytes, 0)
        return np.ascontiguousarray(_ARRAYS.vtk_to_numpy(self._bytes).reshape(height, width, 3)[::-1])

    def close(self) -> None:
        """Let the window go."""
        self._window.Finalize()

    def _look(self, frame: Frame) -> None:
        eye = frame.camera
        _, up, toward = eye.axes
        centre = np.asarray(eye.centre_mm)
        reach = max(_reach(frame, centre), eye.mm_per_px)
        camera = self._renderer.GetActiveCamera()
        camera.SetFocalPoint(*centre)
        camera.SetPosition(*(centre + 2.0 * reach * toward))
        camera.SetViewUp(*up)
        camera.SetParallelScale(0.5 * eye.size_px[1] * eye.mm_per_px)
        camera.SetClippingRange(0.9 * reach, 3.1 * reach)


def _window() -> vtkRenderWindow:
    # Without a screen the X kind complains before it gives way to the other; off-screen needs none at all.
    kind: Any = getattr(vtkRenderingOpenGL2, "vtkEGLRenderWindow", None) if sys.platform == "linux" else None
    return vtkRenderWindow() if kind is None else kind()


def _reach(frame: Frame, centre: Floats) -> float:
    found = [
        frame.solid.points,
        frame.see_through.points,
        *(d.ends.reshape(-1, 3) for d in frame.lines.values()),
    ]
    return max((float(np.abs(at - centre).max()) * np.sqrt(3.0) for at in found if len(at)), default=1.0)


@dataclass
class _Shown:
    points: object = None
    cells: object = None
    colours: object = None


class _Layer:
    """One actor and what it was last given."""

    def __init__(self, renderer: vtkRenderer, *, lit_through: bool) -> None:
        self._data = vtkPolyData()
        self._mapper = vtkPolyDataMapper()
        self._mapper.SetInputData(self._data)
        self._actor = vtkActor()
        self._actor.SetMapper(self._mapper)
        looks = self._actor.GetProperty()
        looks.LightingOff()
        if lit_through:
            looks.SetOpacity(SEE_THROUGH)
            looks.BackfaceCullingOn()
        renderer.AddActor(self._actor)
        self._shown = _Shown()

    def show_faces(self, faces: Faces) -> None:
        self._actor.SetVisibility(len(faces.triangles) > 0)
        if self._shown.points is not faces.points:
            self._place(faces.points)
            self._shown.points = faces.points
        if self._shown.cells is not faces.triangles:
            self._data.SetPolys(_cells(faces.triangles))
            self._shown.cells = faces.triangles
        if self._shown.colours is not faces.colours:
            colours = _ARRAYS.numpy_to_vtk(np.ascontiguousarray(faces.colours), deep=1)
            self._data.GetCellData().SetScalars(colours)
            self._shown.colours = faces.colours

    def show_lines(self, drawn: Drawn | None, scale: float) -> None:
        count = 0 if drawn is None else len(drawn.ends)
        self._actor.SetVisibility(count > 0)
        if drawn is None or count == 0:
            return
        if self._shown.points is not drawn.ends:
            self._place(drawn.ends.reshape(-1, 3))
            self._shown.points = drawn.ends
            if self._shown.cells != count:
                self._data.SetLines(_cells(np.arange(2 * count, dtype=np.int64).reshape(-1, 2)))
                self._shown.cells = count
        looks = self._actor.GetProperty()
        looks.SetLineWidth(max(drawn.width_px * scale, 0.5))
        looks.SetColor(*(part / 255.0 for part in drawn.colour))

    def _place(self, at: Floats) -> None:
        points = vtkPoints()
        points.SetData(_ARRAYS.numpy_to_vtk(np.ascontiguousarray(at, dtype=np.float32), deep=1))
        self._data.SetPoints(points)
        self._data.Modified()


def _cells(numbers: np.ndarray) -> vtkCellArray:
    cells = vtkCellArray()
    size = numbers.shape[1]
    offsets = np.arange(0, numbers.size + 1, size, dtype=np.int64)
    cells.SetData(
        _ARRAYS.numpy_to_vtkIdTypeArray(offsets, deep=1),
        _ARRAYS.numpy_to_vtkIdTypeArray(np.ascontiguousarray(numbers, dtype=np.int64).ravel(), deep=1),
    )
    return cells
