"""Short lessons to start from, one for each form; each builds as it is."""

from __future__ import annotations

from importlib.resources import files

_FOLDER = files(__name__)
STARTERS = tuple(sorted(entry.name.removesuffix(".yaml") for entry in _FOLDER.iterdir() if entry.name.endswith(".yaml")))


def starter(form: str, stem: str) -> bytes:
    """The starter for a form, titled after the file's name. KeyError for a form that has none."""
    if form not in STARTERS:
        raise KeyError(form)
    title = stem.replace("-", " ").replace("_", " ").strip().capitalize() or "My lesson"
    quoted = '"' + title.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return (_FOLDER / f"{form}.yaml").read_text(encoding="utf-8").replace("TITLE", quoted).encode()
