"""The libraries of plane geometry and of arrays, each loaded when something is first asked of it: to load them takes longer than all that is
reckoned in a check, and a built form's check, or a plain plate's, asks nothing of them."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    import shapely
else:

    class _Late:
        """Stands for a module, and keeps all that was asked of it."""

        def __init__(self, name: str) -> None:
            self.__name__ = name

        def __getattr__(self, name: str) -> Any:
            found = getattr(import_module(self.__name__), name)
            setattr(self, name, found)
            return found

    np, shapely = _Late("numpy"), _Late("shapely")

__all__ = ["np", "shapely"]
