"""The package as a stranger gets it: complete, light, and with data flowing one way only."""

import ast
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
FOLDERS = {name: ROOT / path for name, path in PROJECT["tool"]["setuptools"]["package-dir"].items()}
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "pyproject.toml",
    "vision", "engine", "models", "training", "ui", "tests", "samples",
}  # fmt: skip

MAY_IMPORT: dict[str, set[str]] = {
    "engine": {"engine"},
    "models": {"engine.faces", "models"},
    "vision": {"engine.faces", "models", "vision"},
    "training": {"engine.faces", "models", "vision", "training"},
    "ui": {"engine", "models", "samples", "vision", "ui"},
    "samples": set(),
}
"""Photo, tiles, opinion, words: the only direction in which parts may know each other."""


def test_every_folder_of_code_is_a_listed_package() -> None:
    written = {path.parent for name in MAY_IMPORT for path in (ROOT / name).rglob("__init__.py")}

    assert written == set(FOLDERS.values())
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == set(FOLDERS)


def test_the_top_level_holds_what_the_guide_names() -> None:
    listed = subprocess.run(["git", "ls-files"], check=False, cwd=ROOT, capture_output=True, text=True)
    if listed.returncode:
        pytest.skip("not a git checkout, so what belongs to the project cannot be told from what lies about")
    seen = {line.split("/")[0] for line in listed.stdout.splitlines()}

    assert {name for name in seen if not name.startswith(".")} <= TOP_LEVEL


def _imports(source: Path) -> Iterator[str]:
    """Dotted names below `tilewitness.` that a file imports, wherever in the file."""
    for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("part", MAY_IMPORT)
def test_data_flows_one_way(part: str) -> None:
    allowed = MAY_IMPORT[part]
    strangers = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in sorted((ROOT / part).rglob("*.py"))
        if part != "ui" or "api" not in path.parts
        for name in _imports(path)
        if name.startswith("tilewitness.")
        and not any(f"{name}.".startswith(f"tilewitness.{one}.") for one in allowed)
    ]

    assert [] == strangers


def test_importing_the_package_loads_nothing_heavy() -> None:
    heavy = "{'numpy', 'cv2', 'onnxruntime', 'PIL', 'streamlit', 'tilewitness.engine'}"
    code = f"import sys, tilewitness, tilewitness.ui.cli; print(sorted({heavy} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert "[]\n" == done.stdout


def test_every_public_name_loads() -> None:
    import tilewitness

    assert {"__version__", *tilewitness._HOME} == set(tilewitness.__all__)
    for name in tilewitness.__all__:
        assert getattr(tilewitness, name)
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        tilewitness.nonsense  # noqa: B018 - the access is the test


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the sdist and the wheel that was built from it."""
    out = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(out), str(ROOT)]
    done = subprocess.run(command, check=False, capture_output=True, text=True)

    assert 0 == done.returncode, done.stdout + done.stderr
    return out


def _expected_files() -> set[str]:
    """Every module, network, page, script, style and setting, under the name it has once installed."""
    kinds = {".py", ".onnx", ".js", ".css", ".typed", ".html"}
    files = set()
    for package, folder in FOLDERS.items():
        for path in folder.rglob("*"):
            inner = next((one for one in FOLDERS.values() if one != folder and one.is_relative_to(folder)), None)
            if path.suffix in kinds and not (inner and path.is_relative_to(inner)):
                files.add(f"{package.replace('.', '/')}/{path.relative_to(folder).as_posix()}")
    return files


def test_the_wheel_built_from_the_sdist_is_complete(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    inside = set(zipfile.ZipFile(wheel).namelist())

    assert set() == _expected_files() - inside
    assert "tilewitness/ui/.streamlit/config.toml" in inside
    assert set() == {name for name in inside if not name.startswith("tilewitness")}


def test_the_licence_travels_with_the_package(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    (sdist,) = built.glob("*.tar.gz")
    metadata = next(name for name in zipfile.ZipFile(wheel).namelist() if name.endswith("/METADATA"))
    text = zipfile.ZipFile(wheel).read(metadata).decode()

    assert "License-Expression: MIT" in text
    assert "Permission is hereby granted, free of charge" in text  # the licence's own words, in the README
    with tarfile.open(sdist) as archive:
        assert any(name.endswith("/README.md") for name in archive.getnames())
