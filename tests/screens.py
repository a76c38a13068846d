"""Pictures of the page for output_samples/, as a newcomer finds it after one change. Needs Chromium. Run: python -m tests.screens"""

from __future__ import annotations

from io import BytesIO

from PIL import Image

from tests.browser.opened import LESSONS, chromium, opened
from tests.samples import SAMPLES, SCREENS

GREYS = 16  # letters keep their smooth edges, and the file stays small


def screens() -> dict[str, bytes]:
    """Each picture by its name; its size is that of the window in `SCREENS`."""
    made: dict[str, bytes] = {}
    with opened(LESSONS) as server, chromium() as browser:
        for name, (width, height) in SCREENS.items():
            page = browser.new_page(viewport={"width": width, "height": height})
            page.goto(server.address)
            page.get_by_role("link", name="Porthole").click()
            page.get_by_label("Opening, across").fill("90 mm")
            page.get_by_role("row", name="opening").get_by_text("95.7 mm").wait_for()
            page.get_by_role("heading", level=1).click()  # the cursor out of the field
            made[name] = small(page.screenshot())
    return made


def small(png: bytes) -> bytes:
    buffer = BytesIO()
    Image.open(BytesIO(png)).convert("L").quantize(GREYS, dither=Image.Dither.NONE).save(buffer, "PNG", optimize=True)
    return buffer.getvalue()


def main() -> None:
    for name, data in screens().items():
        (SAMPLES / name).write_bytes(data)


if __name__ == "__main__":
    main()
