import doctest
import importlib
import pkgutil

import pytest

import tilewitness.engine

MODULES = sorted(module.name for module in pkgutil.iter_modules(tilewitness.engine.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings_run_as_written(name: str) -> None:
    module = importlib.import_module(f"tilewitness.engine.{name}")

    assert 0 == doctest.testmod(module).failed
