import numpy as np
import pytest

from tilewitness.training.icons import CATEGORIES, icons

gather = pytest.importorskip(
    "tilewitness.training.gather_icons",
    reason="resvg_py, needed only to make the icons again, is not installed",
)


def test_an_icon_becomes_regions_from_dark_to_light_cropped_to_its_ink() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">'
        '<rect x="20" y="10" width="40" height="40" fill="#ffcc00"/>'
        '<rect x="20" y="50" width="40" height="40" fill="#202060"/></svg>'
    )
    image = gather.regions(svg)
    regions = np.asarray(image)

    assert (gather.SIZE // 2, gather.SIZE) == image.size
    assert 2 == regions[20, 50]
    assert 1 == regions[-20, 50]
    assert (regions > 0).all()


def test_every_chosen_set_is_named_once_for_each_category() -> None:
    for category in CATEGORIES:
        names = icons(category) + icons(category, held_out=True)

        assert len(names) == len(set(names))
