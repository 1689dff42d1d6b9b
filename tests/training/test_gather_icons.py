import numpy as np
import pytest

from tilewitness.training.icon_sources import IconSet, with_box
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


def test_a_share_alike_licence_is_refused() -> None:
    with pytest.raises(ValueError, match="CC-BY-SA-4.0"):
        IconSet("set", "package", "1.0", "CC-BY-SA-4.0", "someone", {})


def test_a_picture_without_a_view_box_gets_one_of_its_size_in_points() -> None:
    boxed = with_box('<svg width="80pt" height="40pt" id="a"></svg>')

    assert '<svg viewBox="0 0 100.0 50.0" id="a"></svg>' == boxed


def test_a_view_box_is_kept() -> None:
    assert '<svg viewBox="0 0 4 4"/>' == with_box('<svg viewBox="0 0 4 4" width="100%"/>')
