import tomllib

import numpy as np
import pytest

from tilewitness.training.icon_sources import ALLOWED, IconSet, with_box
from tilewitness.training.icons import CATEGORIES, FOLDER, Category, icons

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


@pytest.mark.parametrize("category", CATEGORIES)
def test_the_stored_icons_are_those_of_the_selection_in_its_splits(category: Category) -> None:
    selection = tomllib.loads((FOLDER / "selection.toml").read_text(encoding="utf-8"))
    sets, held = selection[category], selection["held_out"][category].split()
    chosen = {f"{name}--{icon}" for name in sets if name != "emoji" for icon in sets[name].split()}
    emoji = {f"{name}--{icon}" for name in selection["emoji"] for icon in sets.get("emoji", "").split()}
    kept = {icon for icon in chosen | emoji if {icon.split("--")[1], icon.replace("--", ":")} & set(held)}
    training, held_out = set(icons(category)), set(icons(category, held_out=True))

    assert chosen <= training | held_out <= chosen | emoji  # not every set of emoji has every one
    assert held_out == (training | held_out) & kept


def test_the_licences_name_each_set_in_the_version_of_the_selection() -> None:
    selection = tomllib.loads((FOLDER / "selection.toml").read_text(encoding="utf-8"))
    page = (FOLDER / "LICENCES.md").read_text(encoding="utf-8").split("| category |")[0]
    rows = [line.strip("| ").split(" | ") for line in page.splitlines() if line.startswith("| ")][2:]

    assert selection["versions"] == {name: version for name, _, version, _, _ in rows}
    assert {licence for *_, licence in rows} <= ALLOWED


def test_a_share_alike_licence_is_refused() -> None:
    with pytest.raises(ValueError, match="CC-BY-SA-4.0"):
        IconSet("set", "package", "1.0", "CC-BY-SA-4.0", "someone", {})


def test_a_picture_without_a_view_box_gets_one_of_its_size_in_points() -> None:
    boxed = with_box('<svg width="80pt" height="40pt" id="a"></svg>')

    assert '<svg viewBox="0 0 100.0 50.0" id="a"></svg>' == boxed


def test_a_view_box_is_kept() -> None:
    assert '<svg viewBox="0 0 4 4"/>' == with_box('<svg viewBox="0 0 4 4" width="100%"/>')
