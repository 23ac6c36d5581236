"""What a person installs holds everything that the program needs."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
THEMES = sorted(path.name for path in (ROOT / "themes").glob("*.toml"))
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "tracker", "tests", "themes"}


def _build(kind: str, folder: Path) -> Path:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (built,) = folder.iterdir()
    return built


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, unpacked as an installer would."""
    folder = tmp_path_factory.mktemp("wheel")
    target = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(_build("wheel", folder)) as wheel:
        wheel.extractall(target)
    return target


def test_an_installed_program_lists_the_themes_from_any_folder(installed: Path, tmp_path: Path) -> None:
    code = (
        "import tracker.grids.themes as t;"
        "print(t.__file__);"
        "print(*sorted(p.name for p in t.themes_folder().iterdir()), sep='\\n')"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(installed)},
        check=True,
        capture_output=True,
        text=True,
    )
    where, *listed = ran.stdout.splitlines()
    assert where.startswith(str(installed))
    assert listed == THEMES


def test_every_file_beside_the_code_is_in_the_wheel(installed: Path) -> None:
    beside = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "tracker").rglob("*")
        if path.is_file() and path.suffix not in (".pyc",)
    }
    shipped = {path.relative_to(installed).as_posix() for path in installed.rglob("*") if path.is_file()}
    assert beside <= shipped


def test_the_source_archive_holds_the_themes_and_the_tests(tmp_path: Path) -> None:
    import tarfile

    with tarfile.open(_build("sdist", tmp_path)) as archive:
        names = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
    assert {f"themes/{theme}" for theme in THEMES} <= names
    assert {"README.md", "LICENSE", "pyproject.toml", "tests/test_packaging.py"} <= names


def test_the_package_says_what_it_is() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    assert project["name"] == "tracker-days"
    assert project["scripts"] == {"tracker": "tracker.commands.main:main"}
    assert project["license"] == "MIT"


def test_the_top_level_holds_nothing_else() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, check=False, capture_output=True, text=True)
    if listed.returncode:
        pytest.skip("not a git checkout")
    tops = {line.split("/", 1)[0] for line in listed.stdout.splitlines()}
    assert {top for top in tops if not top.startswith(".")} == TOP_LEVEL
