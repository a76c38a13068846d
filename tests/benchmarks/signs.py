"""How large the file of a sign of one page is: it goes by mail, and it is little more than the fonts that it carries."""

from __future__ import annotations

from pathlib import Path

from tests.benchmarks.measure import lessonkit, measure

SIGN = """\
title: Porthole
about: A round frame.
technique: slab
clay: white low-fire
pieces:
  - name: frame
    flat: {outline: {circle: {across: 160 mm}}}
steps:
  - {id: cut, title: Cut the ring, picture: cut, minutes: 8, station: Join, text: Cut the ring.}
stations:
  - name: Join
    do: [Roughen both faces., Brush on slip., Press for a slow three., Smooth the seam.]
    pictures: [score, slip, join, smooth]
    need: [your ring on its tray, eight rivets, a scoring fork]
    come: your ring is cut
    safety: Forks stand in the cup, points down.
"""


def sign_kb(folder: Path, room: Path) -> float:
    """In thousands of bytes."""
    lesson = folder / "sign.yaml"
    lesson.write_text(SIGN, encoding="utf-8")
    measure(lessonkit("build", lesson, "--room", room, "--out", folder, "--only", "signs"))
    return (folder / "sign" / "station-signs.pdf").stat().st_size / 1000
