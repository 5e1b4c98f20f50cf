"""The tools: name, what they are called, their key, how they are used, and what makes one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from app.window.flat.tool_in_hand import Desk, ToolInHand
from app.window.flat.tools.corner_tools import ArcTool, ChamferTool, CornerTool, RoundTool
from app.window.flat.tools.hole_tool import BoltTool, HoleTool
from app.window.flat.tools.line_tools import FoldTool, MeasureTool, SawTool
from app.window.flat.tools.opening_tools import RectangleTool, SlotTool
from app.window.flat.tools.outline_tool import CutOutTool, OutlineTool
from app.window.flat.tools.repeat_tool import RepeatTool
from app.window.flat.tools.select_tool import SelectTool


@dataclass(frozen=True)
class Tool:
    """One tool of the table."""

    name: str
    """What the program calls it."""
    words: str
    """What a menu calls it."""
    key: str
    """The key that takes it in hand."""
    how: str
    """How it is used, in a sentence under the drawing."""
    make: Callable[[Desk], ToolInHand]


TOOLS: Final[tuple[Tool, ...]] = (
    Tool("select", "Select and drag", "Q", "", SelectTool),
    Tool(
        "outline",
        "Outline of a plate",
        "P",
        "click the corners; the first one again, or Enter, closes; a figure is the length of an edge",
        OutlineTool,
    ),
    Tool("corner", "Corner on an edge", "C", "press on an edge and drag the new corner", CornerTool),
    Tool(
        "round", "Round a corner", "R", "press on a corner and drag inward; a figure is the radius", RoundTool
    ),
    Tool(
        "chamfer",
        "Cut a corner off",
        "K",
        "press on a corner and drag inward; a figure is the length cut off each edge",
        ChamferTool,
    ),
    Tool(
        "arc",
        "Bend an edge to an arc",
        "A",
        "drag an edge to bend it; click an arc to straighten it",
        ArcTool,
    ),
    Tool("hole", "Hole", "H", "click where the hole is; a figure is its diameter", HoleTool),
    Tool("slot", "Slot", "S", "drag from one round end to the other; a figure is its width", SlotTool),
    Tool("rectangle", "Rectangular cut-out", "T", "drag from corner to corner", RectangleTool),
    Tool("cut-out", "Free cut-out", "U", "click the corners; the first corner or Enter closes", CutOutTool),
    Tool(
        "repeat",
        "Repeat an opening in a line",
        "E",
        "click where the next one goes; a figure is how many there are, with the first",
        RepeatTool,
    ),
    Tool("fold", "Fold line", "L", "draw a line across the plate", FoldTool),
    Tool("bolt", "Bolt hole", "B", "click on a free boss or over the dash bar", BoltTool),
    Tool("saw", "Saw", "W", "draw a line from one edge of the plate to another; letting go saws", SawTool),
    Tool("measure", "Measure", "M", "drag from one place to another; nothing is changed", MeasureTool),
)
BY_NAME: Final = {tool.name: tool for tool in TOOLS}
BY_KEY: Final = {tool.key: tool for tool in TOOLS}
