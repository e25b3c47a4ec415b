"""The formats of a drawing's file, by themselves: the command's help names them, and loads nothing else of drawings."""

from __future__ import annotations

from typing import Literal, get_args

DrawingFormat = Literal["svg", "png", "dxf"]
FORMATS: tuple[DrawingFormat, ...] = get_args(DrawingFormat)
