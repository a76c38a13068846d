"""A part too large for one sheet: which tiles it is cut into, where they overlap, and the crosses that bring them together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import ceil
from string import ascii_lowercase

from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.shape import Bounds, clip_line
from lessonkit.layout.pen import ATTENTION, FINE, OBJECT, OVERLAP, THIN, Pen
from lessonkit.layout.stencils.board import Board, NoRoom
from lessonkit.layout.stencils.figure import Figure
from lessonkit.layout.stencils.ground import Ground
from lessonkit.layout.stencils.panels import TEXT, Panel, words
