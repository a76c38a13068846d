"""Builds output_samples/ from lessons/: papers of two lessons, and pictures of their pages. Run: python -m tests.samples"""

from __future__ import annotations

import shutil
from io import BytesIO
from pathlib import Path

import pypdfium2
from PIL import Image

from lessonkit.build import Source, papers, room_papers, sound_room, work
from lessonkit.cli.files import write_all

ROOT = Path(__file__).parents[1]
SAMPLES = ROOT / "output_samples"
LESSONS = ("porthole", "reed-pot")
PICTURES = {  # picture -> lesson, paper, page; what README.md and a newcomer look at
    "stencil.png": ("porthole", "stencils.pdf", 0),
    "stencil-tiled.png": ("reed-pot", "stencils.pdf", 0),
    "cards-easy.png": ("porthole", "cards-easy.pdf", 0),
    "cards-advanced.png": ("porthole", "cards-advanced.pdf", 0),
    "sign.png": ("porthole", "station-signs.pdf", 1),
    "teacher.png": ("porthole", "teacher.pdf", 0),
}
PIXELS_PER_POINT = 1.4


def sample_papers() -> dict[str, bytes]:
    """Every paper of the sample lessons and of the room, by its path under output_samples."""
    room = Source("room.yaml", (ROOT / "lessons" / "room.yaml").read_bytes())
    made: dict[str, bytes] = {}
    for name in LESSONS:
        kit, problems = work(Source(f"{name}.yaml", (ROOT / "lessons" / f"{name}.yaml").read_bytes()), room)
        assert kit is not None, problems
        made |= {f"{name}/{file}": data for file, data in papers(kit).items()}
    found, problems = sound_room(room)
    assert found is not None, problems
    return made | {f"room/{file}": data for file, data in room_papers(found).items()}


def picture(pdf: bytes, page: int) -> Image.Image:
    """A page as a grey picture."""
    rendered: Image.Image = pypdfium2.PdfDocument(pdf)[page].render(scale=PIXELS_PER_POINT, grayscale=True).to_pil()
    return rendered


def main() -> None:
    made = sample_papers()
    shutil.rmtree(SAMPLES, ignore_errors=True)
    for name, (lesson, paper, page) in PICTURES.items():
        buffer = BytesIO()
        picture(made[f"{lesson}/{paper}"], page).save(buffer, "PNG", optimize=True)
        made[f"pictures/{name}"] = buffer.getvalue()
    for folder in {path.rsplit("/", 1)[0] for path in made}:
        write_all(SAMPLES / folder, {path.rsplit("/", 1)[1]: data for path, data in made.items() if path.rsplit("/", 1)[0] == folder})


if __name__ == "__main__":
    main()
