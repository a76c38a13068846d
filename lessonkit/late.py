"""Modules that a library imports and that we ask nothing of, loaded when somebody does ask: a tenth of what a build loads."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import reload
from importlib.machinery import ModuleSpec, PathFinder
from threading import RLock
from types import ModuleType
from typing import Any

FUNCTIONS = {
    "PIL.Image": (),  # reportlab reads pictures with it
    "bz2": (),  # Python itself packs files with it
    "ctypes": (),  # numpy lends its arrays to others with it
    "importlib.metadata": ("entry_points",),  # pydantic looks for plug-ins with it
    "lzma": (),
    "pickle": (),  # numpy and reportlab keep things with it
    "reportlab.lib.rl_safe_eval": ("rl_extended_literal_eval", "rl_safe_eval", "rl_safe_exec", "safer_globals"),  # for texts that reckon
    "secrets": (),  # pydantic compares passwords with it
    "svgwrite.data.svgparser": ("is_valid_animation_timing", "is_valid_pathdata", "is_valid_transferlist"),  # svgwrite checks values with it
    "tokenize": (),  # Python shows its own sources with it
    "urllib.request": ("urlopen",),  # svgwrite fetches typefaces with it
}
"""What loads late, and the functions that are imported from it by name, each of which loads it when called."""

_LOCK = RLock()


def load_late() -> None:
    """From now on the modules of FUNCTIONS load when they are first asked for anything else. One that isn't there is missed as ever."""
    if _Finder not in sys.meta_path:
        sys.meta_path.insert(0, _Finder)


class _Late(ModuleType):
    """What importlib.util.LazyLoader makes, but that a function's name can be imported from it, and that importing it twice, or from many
    threads, does no harm."""

    def __getattr__(self, name: str) -> Any:
        if name == "__path__":  # asked at every import: not a package
            raise AttributeError(name)
        if name in FUNCTIONS[self.__name__]:
            return lambda *given, **named: _loaded(self, name)(*given, **named)
        return _loaded(self, name)


def _loaded(module: ModuleType, name: str) -> Any:
    with _LOCK:
        if type(module) is _Late:
            reload(module)
            module.__class__ = ModuleType  # type: ignore[assignment]  # no longer late
    return ModuleType.__getattribute__(module, name)


class _Finder:
    """Finds them where Python would, and loads them as nothing but their names."""

    @staticmethod
    def find_spec(name: str, path: Sequence[str] | None = None, target: ModuleType | None = None) -> ModuleSpec | None:
        if name not in FUNCTIONS or target is not None:  # a reload has a target
            return None
        spec = PathFinder.find_spec(name, path)
        if spec:
            spec.loader = _Finder  # type: ignore[assignment]  # the class does as its own instance
        return spec

    @staticmethod
    def create_module(spec: ModuleSpec) -> None:
        """As Python does."""

    @staticmethod
    def exec_module(module: ModuleType) -> None:
        module.__class__ = _Late
