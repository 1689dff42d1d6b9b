from pathlib import Path

import pytest

from tilewitness.engine.card import Card, load_card

SAMPLES = Path(__file__).parents[2] / "samples"


@pytest.fixture(autouse=True, scope="session")
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Keep compiled cards out of the user's real cache folder."""
    patch = pytest.MonkeyPatch()
    patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))


@pytest.fixture(scope="session")
def demo(own_cache: None) -> Card:
    """The demo card."""
    return load_card(SAMPLES / "card.toml")


@pytest.fixture(scope="session")
def handbook(own_cache: None) -> Card:
    """Hands of the older game."""
    return load_card(SAMPLES / "handbook.toml")
