"""Builds output_samples/ from lessons/: all papers of four lessons, the room's, and pictures of pages. Run: python -m tests.samples"""

from __future__ import annotations

import shutil
from functools import cache
from io import BytesIO
from pathlib import Path

import pypdfium2
from PIL import Image

from lessonkit.build import gallery_papers, papers, room_papers, sound_room, work
from lessonkit.cli.files import lesson_paths, source
from lessonkit.keeping import write_all
from lessonkit.pieces.model import Kit

ROOT = Path(__file__).parents[1]
SAMPLES = ROOT / "output_samples"
LESSONS = ("porthole", "reed-pot", "limpet-bowl", "marsh-grass-planter")  # a frame, a built form, pinch, coil
PAPER = "Letter"
PICTURES = {  # picture -> folder, paper, page; what README.md and a newcomer look at
    "stencil.png": ("porthole", "stencils.pdf", 0),
    "stencil-tiled.png": ("reed-pot", "stencils.pdf", 0),
    "cards-easy.png": ("porthole", "cards-easy.pdf", 0),
    "cards-advanced.png": ("porthole", "cards-advanced.pdf", 0),
    "sign.png": ("porthole", "station-signs.pdf", 1),
    "teacher.png": ("porthole", "teacher.pdf", 0),
    "outlines.png": ("gallery", "gallery.pdf", 0),
    "forms.png": ("gallery", "gallery.pdf", 1),
    "step-pictures.png": ("gallery", "step-pictures.pdf", 0),
    "shelf.png": ("gallery", "shelf.pdf", 0),
}
SCREENS = {"page-desktop.png": (1440, 900), "page-tablet.png": (820, 1180)}  # the page; made by tests/screens.py, for they need a browser
PIXELS_PER_POINT = 1.4


def kit_of_file(path: Path) -> Kit:
    kit, problems = work(source(path), source(ROOT / "lessons" / "room.yaml"))
    assert kit is not None, problems
    return kit


@cache
def sample_papers() -> dict[str, bytes]:
    """Every sample by its path under output_samples, but for the pictures."""
    made: dict[str, bytes] = {}
    kits = {path.stem: kit_of_file(path) for path in lesson_paths([ROOT / "lessons"])}
    for name in LESSONS:
        made |= {f"{name}/{file}": data for file, data in papers(kits[name]).items()}
    room, problems = sound_room(source(ROOT / "lessons" / "room.yaml"))
    assert room is not None, problems
    made |= {f"room/{file}": data for file, data in room_papers(room).items()}
    return made | {f"gallery/{file}": data for file, data in gallery_papers(PAPER, list(kits.values())).items()}


def picture(pdf: bytes, page: int) -> Image.Image:
    """A page as a grey picture."""
    rendered: Image.Image = pypdfium2.PdfDocument(pdf)[page].render(scale=PIXELS_PER_POINT, grayscale=True).to_pil()
    return rendered


def main() -> None:
    made = dict(sample_papers())
    for old in SAMPLES.glob("*"):
        if old.is_dir():
            shutil.rmtree(old)
    for name, (folder, paper, page) in PICTURES.items():
        buffer = BytesIO()
        picture(made[f"{folder}/{paper}"], page).save(buffer, "PNG", optimize=True)
        made[f"pictures/{name}"] = buffer.getvalue()
    for folder in {path.rsplit("/", 1)[0] for path in made}:
        write_all(SAMPLES / folder, {path.rsplit("/", 1)[1]: data for path, data in made.items() if path.rsplit("/", 1)[0] == folder})


if __name__ == "__main__":
    main()
