"""What the documents promise: every example runs, every command they name exists."""

import doctest
import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import tilewitness
from tilewitness.engine.describe import describe
from tilewitness.ui.card_guide import GUIDE

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


@pytest.mark.parametrize("wording", [wording for wording, _ in GUIDE])
def test_every_example_of_how_to_word_a_hand_is_one(wording: str) -> None:
    worth = "" if "worth" in wording else "; worth 25"
    card = tilewitness.parse_card(f'name = "Guide"\n["Section"]\n"Hand" = "{wording}{worth}"')

    assert 1 == len(card.hands)


def test_the_readme_tells_how_to_word_a_hand_as_the_app_does() -> None:
    rows = re.findall(r"^\| `(.+)` \| (.+) \|$", _chapter("Typing in your card"), re.MULTILINE)

    assert list(GUIDE) == rows


def test_the_card_in_the_readme_is_one() -> None:
    (text,) = re.findall(r"```toml\n(.*?)```", _chapter("Typing in your card"), re.DOTALL)

    assert [] == [one.warnings for one in describe(tilewitness.parse_card(text)) if one.warnings]


def _chapter(title: str) -> str:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return text.split(f"\n## {title}\n")[1].split("\n## ")[0]


def test_ci_runs_the_readmes_own_commands() -> None:
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")

    assert ["python3 -m venv", "python -m pytest"] == re.findall(r"readme_command '(.*)'", ci)


def test_the_readme_says_what_changed_in_this_version() -> None:
    changed = (ROOT / "README.md").read_text(encoding="utf-8").split("## What changed")[1]

    assert f"**{tilewitness.__version__}**" in changed
