"""Pictures that move, as GIF; beside the reader of photographs the one file that knows pillow."""

from __future__ import annotations

import io
from collections.abc import Sequence

from PIL import Image

from app.mounted.frame import Image as Pixels


def gif_bytes(frames: Sequence[Pixels], frame_ms: int) -> bytes:
    """Return frames of one size as a GIF that goes round for ever; ValueError for none.

    All frames share one set of colours, so that what stands still does not flicker.
    """
    if not frames:
        raise ValueError("a picture that moves needs frames, and there are none")
    colours = Image.fromarray(frames[0]).quantize(128)
    first, *rest = (
        Image.fromarray(frame).quantize(palette=colours, dither=Image.Dither.NONE) for frame in frames
    )
    out = io.BytesIO()
    first.save(out, "GIF", save_all=True, append_images=rest, duration=frame_ms, loop=0, optimize=False)
    return out.getvalue()
