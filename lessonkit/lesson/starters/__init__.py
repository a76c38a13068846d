"""Short lessons to start from, one for each form; each builds as it is."""

from __future__ import annotations

from importlib.resources import files

from lessonkit.lesson.examples import FORMS

_ABOUT = {
    "oval": "An oval pot from one wall and a base.",
    "cone": "A pot that is wider at the top.",
    "dish": "A round dish with a flat bottom and a sloped rim.",
    "bowl": "A round bowl slumped in a form.",
    "box": "A box with a lid.",
    "many_sided": "A six-sided pot with leaning walls.",
    "hut": "A small house with a roof for a lid.",
    "pocket": "A pocket to hang on a wall.",
    "tray": "A tray with raised ends.",
    "coil_pot": "A pot built from coils.",
    "pinch": "A small pinched bowl.",
}
_PRESSED = ("dish", "bowl", "tray")
_OWN_FILE = ("flat", "cylinder", "coil_pot", "pinch")
STARTERS = ("flat", *FORMS)


def starter(form: str, stem: str) -> bytes:
    """The starter for a form, titled after the file's name. KeyError for a form that has none."""
    if form not in STARTERS:
        raise KeyError(form)
    title = stem.replace("-", " ").replace("_", " ").strip().capitalize() or "My lesson"
    quoted = '"' + title.replace("\\", "\\\\").replace('"', '\\"') + '"'
    name = form if form in _OWN_FILE else "pressed" if form in _PRESSED else "built"
    text = files(__name__).joinpath(f"{name}.yaml").read_text(encoding="utf-8")
    sizes = ", ".join(f"{word}: {size}" for word, size in FORMS.get(form, {}).items())
    return text.replace("TITLE", quoted).replace("ABOUT", _ABOUT.get(form, "")).replace("FORM", f"{form}: {{{sizes}}}").encode()
