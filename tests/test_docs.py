"""What the documents promise: every example runs, every command they name exists."""

import doctest
import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import tilewitness

ROOT = Path(__file__).parents[1]
PARTS = ("engine", "vision", "ui")


def _modules() -> list[str]:
    found = ["tilewitness"]
    for part in PARTS:
        package = importlib.import_module(f"tilewitness.{part}")
        names = (module.name for module in pkgutil.iter_modules(package.__path__))
        # `ui/app.py` is a page for Streamlit, and `ui/api` is the front door under a second name.
        found += [f"tilewitness.{part}.{name}" for name in names if (part, name) not in _NOT_MODULES]
    return found


_NOT_MODULES = {("ui", "app"), ("ui", "api")}


@pytest.mark.parametrize("name", _modules())
def test_examples_in_docstrings_run(name: str) -> None:
    assert 0 == doctest.testmod(importlib.import_module(name)).failed


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_examples_in_documents_run(document: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)

    assert 0 == doctest.testfile(str(ROOT / document), module_relative=False).failed


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_files_that_documents_link_to_exist(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")
    links = re.findall(r"\]\(([^)#:]+)\)", text)

    assert [] == [link for link in links if not (ROOT / link).exists()]


def test_ci_runs_the_readmes_own_commands() -> None:
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")

    assert ["python3 -m venv", "python -m pytest"] == re.findall(r"readme_command '(.*)'", ci)


def test_the_readme_says_what_changed_in_this_version() -> None:
    changed = (ROOT / "README.md").read_text(encoding="utf-8").split("## What changed")[1]

    assert f"**{tilewitness.__version__}**" in changed
