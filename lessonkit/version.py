"""The program's version: the only place that says it, read by the build of the package too."""

from __future__ import annotations

VERSION = "0.1.0"
