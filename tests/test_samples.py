"""output_samples/ is what the program makes today. If it is not: python -m tests.samples"""

from __future__ import annotations

from PIL import Image, ImageChops

from tests.samples import PICTURES, SAMPLES, SCREENS, picture, sample_papers

LARGEST_BYTES = 8_000_000
LARGEST_SCREEN_BYTES = 400_000


def test_every_sample_is_there_and_current() -> None:
    made = sample_papers()
    stored = {str(path.relative_to(SAMPLES)): path for path in SAMPLES.rglob("*") if path.is_file()}
    assert set(stored) == set(made) | {f"pictures/{name}" for name in PICTURES} | set(SCREENS)
    assert [name for name, data in made.items() if stored[name].read_bytes() != data] == []
    assert [name for name, (folder, paper, page) in PICTURES.items() if not alike(name, picture(made[f"{folder}/{paper}"], page))] == []


def test_the_pictures_of_the_page_have_their_size() -> None:
    """No more than that: every browser smooths letters in its own way. If the page has changed: python -m tests.screens"""
    for name, size in SCREENS.items():
        with Image.open(SAMPLES / name) as stored:
            assert stored.size == size, name
        assert (SAMPLES / name).stat().st_size < LARGEST_SCREEN_BYTES, name


def alike(name: str, now: Image.Image) -> bool:
    """Another machine's renderer may differ by a shade along an edge, never by a line."""
    with Image.open(SAMPLES / "pictures" / name) as stored:
        if stored.size != now.size:
            return False
        histogram = ImageChops.difference(stored.convert("L"), now).histogram()
    return sum(histogram[100:]) <= 0.0005 * now.size[0] * now.size[1]


def test_a_line_that_is_missing_would_be_seen() -> None:
    name, (folder, paper, page) = next(iter(PICTURES.items()))
    now = picture((SAMPLES / folder / paper).read_bytes(), page)
    assert alike(name, now)
    now.paste(255, (0, 0, now.size[0], now.size[1] // 3))
    assert not alike(name, now)


def test_the_samples_stay_small() -> None:
    assert sum(path.stat().st_size for path in SAMPLES.rglob("*") if path.is_file()) < LARGEST_BYTES
