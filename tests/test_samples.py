"""output_samples/ is what the program makes today."""

from __future__ import annotations

import pytest
from PIL import Image, ImageChops

from tests.samples import PICTURES, SAMPLES, picture, sample_papers

LARGEST_BYTES = 8_000_000
MADE = sample_papers()


def test_every_paper_is_there_and_no_other() -> None:
    found = {str(path.relative_to(SAMPLES)) for path in SAMPLES.rglob("*") if path.is_file()}
    assert found == set(MADE) | {f"pictures/{name}" for name in PICTURES}, "run: python -m tests.samples"


@pytest.mark.parametrize("name", MADE)
def test_the_paper_is_current(name: str) -> None:
    assert (SAMPLES / name).read_bytes() == MADE[name], "run: python -m tests.samples"


@pytest.mark.parametrize("name", PICTURES)
def test_the_picture_is_current(name: str) -> None:
    """Another machine's renderer may differ by a shade along an edge, never by a line."""
    lesson, paper, page = PICTURES[name]
    now = picture(MADE[f"{lesson}/{paper}"], page)
    with Image.open(SAMPLES / "pictures" / name) as stored:
        assert stored.size == now.size
        histogram = ImageChops.difference(stored.convert("L"), now).histogram()
    assert sum(histogram[100:]) <= 0.0005 * now.size[0] * now.size[1]


def test_the_samples_stay_small() -> None:
    assert sum(path.stat().st_size for path in SAMPLES.rglob("*") if path.is_file()) < LARGEST_BYTES
