"""The page for contributors names every package, and the import contract holds and can fail."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tokenize
from pathlib import Path

ROOT = Path(__file__).parents[1]


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command; lint_imports_command()", "--no-cache"]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def test_every_package_has_its_line() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text()
    names = [path.name for path in (ROOT / "lessonkit").iterdir() if (path / "__init__.py").is_file()]
    names += [path.name for path in (ROOT / "lessonkit").glob("[a-z]*.py")]
    forgotten = [name for name in names if f"`{name}`" not in page and f"`{name}/`" not in page]
    assert not forgotten


def test_packages_start_empty() -> None:
    """`__init__.py` holds a docstring and nothing else (starters, which is data with its door, apart)."""
    for path in (ROOT / "lessonkit").rglob("__init__.py"):
        if path.parent.name != "starters":
            assert path.read_text().count('"""') == 2
            assert path.read_text().strip().endswith('"""')


def test_imports_flow_down() -> None:
    result = lint(ROOT)
    assert result.returncode == 0, result.stdout


def test_the_import_contract_can_fail(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "lessonkit", tmp_path / "lessonkit", ignore=shutil.ignore_patterns("__pycache__", "typefaces"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    broken = {"units.py": "import lessonkit.problems", "pieces/model.py": "import shapely", "clay/weight.py": "import lessonkit.geometry"}
    for module, line in broken.items():
        path = tmp_path / "lessonkit" / module
        before = path.read_text()
        path.write_text(before + line + "\n")
        result = lint(tmp_path)
        assert result.returncode != 0, (module, result.stdout)
        path.write_text(before)
    assert lint(tmp_path).returncode == 0


def test_the_inch_stands_in_one_file() -> None:
    for path in (ROOT / "lessonkit").rglob("*.py"):
        if path.name != "units.py":
            with path.open("rb") as file:
                numbers = {token.string for token in tokenize.tokenize(file.readline) if token.type == tokenize.NUMBER}
            assert "25.4" not in numbers, path
