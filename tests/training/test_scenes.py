"""Scenes are the same whenever they are made, and their truth is where an independent projection puts it."""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import numpy as np
import pytest

from tilewitness.engine.faces import FACES, NAMES
from tilewitness.training.bodies import sample_body
from tilewitness.training.camera import Camera, framed, look_at
from tilewitness.training.dataset import write
from tilewitness.training.faces import sample_style
from tilewitness.training.kinds import KINDS, Plan, View
from tilewitness.training.painting import FINE
from tilewitness.training.placing import Layout, Shown, Spot, corners_of, standing
from tilewitness.training.scenes import Scene, aim, paint_plan, render_scene, truth
from tilewitness.training.solids import Paint, Solid, back_to_front, box, turned


def _scenes(kind: str, held_out: bool) -> list[Scene]:
    return [render_scene(seed, held_out=held_out, kind=kind) for seed in range(2)]


def test_a_scene_is_the_same_every_time() -> None:
    first, again, other = render_scene(7), render_scene(7), render_scene(8)

    assert np.array_equal(first.image, again.image)
    assert [t.quad.tolist() for t in first.tiles] == [t.quad.tolist() for t in again.tiles]
    assert first.image.shape != other.image.shape or not np.array_equal(first.image, other.image)


@pytest.mark.parametrize("held_out", [False, True])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_scene_has_sound_truth(kind: str, held_out: bool) -> None:
    for scene in _scenes(kind, held_out):
        h, w, channels = scene.image.shape
        assert 3 == channels
        assert max(h, w) <= 1024
        for tile in scene.tiles:
            area = cv2.contourArea(tile.quad, oriented=True)
            assert area > 0, "clockwise as seen in the picture"
            assert cv2.isContourConvex(tile.quad)
            assert 0 <= tile.hidden <= 1
            if tile.hidden < 0.001:
                round_off = 0.1 * np.ptp(tile.quad, axis=0).max()  # a rounded corner may end outside
                assert (tile.quad > -round_off).all() and (tile.quad < np.add((w, h), round_off)).all()


def test_rows_and_places_read_from_the_top_left() -> None:
    for seed in range(6):
        tiles = render_scene(seed, kind="grid").tiles
        rows = [[t for t in tiles if t.row == number] for number in range(1 + max(t.row for t in tiles))]
        for line in rows:
            assert list(range(len(line))) == [t.place for t in line]
            middles = [float(t.quad[:, 0].mean()) for t in line]
            assert sorted(middles) == middles
        heights = [np.mean([t.quad[:, 1].mean() for t in line]) for line in rows]
        assert sorted(heights) == heights


def test_a_scene_without_tiles_has_no_truth() -> None:
    assert [()] * 5 == [render_scene(seed, kind="empty").tiles for seed in range(5)]


def _camera(bend: float) -> Camera:
    turn, eye = look_at(np.array([0.2, 0.5, 0.3]), 9.0, 40, 17, -8)
    subject = np.array([(-4, -2, 0), (4, -2, 0), (4, 3, 0), (-4, 3, 1)], np.float32)
    return framed(turn, eye, subject, long=900, aspect=1.5, fill=0.8, offset=(0.3, -0.2), bend=bend)


@pytest.mark.parametrize("bend", [0.0, -0.03, 0.03])
def test_points_land_where_opencv_projects_them(bend: float) -> None:
    """Reference: cv2.projectPoints, an independent implementation of the same camera model."""
    camera = _camera(bend)
    points = np.random.default_rng(1).uniform((-4, -2, 0), (4, 3, 1), (50, 3))
    matrix = np.array([[camera.focal, 0, camera.centre[0]], [0, camera.focal, camera.centre[1]], [0, 0, 1]])
    spin = cv2.Rodrigues(camera.turn)[0]
    shift = -camera.turn @ camera.eye
    expected = cv2.projectPoints(points, spin, shift, matrix, np.array([camera.bend, 0, 0, 0]))[0][:, 0]

    np.testing.assert_allclose(expected, camera.project(points), atol=0.01)


def test_a_ray_through_a_pixel_meets_the_point_seen_there() -> None:
    camera = _camera(0.02)
    points = np.random.default_rng(2).uniform((-3, -2, 0), (3, 3, 0), (40, 3))
    x, y = camera.project(points).T
    rays = camera.rays(x, y)
    back = camera.eye + rays * (-camera.eye[2] / rays[:, 2])[:, None]

    np.testing.assert_allclose(points, back, atol=0.01)


def _plan(spots: list[Spot], solids: list[Solid]) -> Plan:
    body = sample_body(np.random.default_rng(0))
    layout = Layout(spots, solids)
    layout.focus += [corners_of(spot, body) for spot in spots]
    return Plan(layout, View(90, 0, 0, 6, 1.0, False, 0.5, (0, 0), 0))


def _hidden(solids: list[Solid], fill: float = 0.5) -> list[float]:
    """Render one tile lying flat with these things about, and return how much of it is hidden."""
    rng = np.random.default_rng(3)
    body = sample_body(np.random.default_rng(0))
    spots = [Spot(Shown(FACES[0]), turned(), np.array([0, 0, body.size[2] / 2]), 0)]
    plan = _plan(spots, solids)
    view = View(90, 0, 0, 6, 1.0, False, fill, (0, 0), 0)
    plan = Plan(plan.layout, view)
    camera = aim(plan, 600)
    painting = paint_plan(plan, body, sample_style(rng), camera, rng)
    return [tile.hidden for tile in truth(spots, body, camera, painting)]


def test_a_tile_in_the_open_is_not_hidden() -> None:
    assert [0.0] == _hidden([])


def test_a_board_over_half_a_tile_hides_half() -> None:
    body = sample_body(np.random.default_rng(0))
    low = body.size[2] + 0.001
    board = box((0, -2, low), (2, 2, low + 0.001), Paint((0, 0, 0)))

    assert [pytest.approx(0.5, abs=0.01)] == _hidden([board])


def test_a_board_under_a_tile_hides_nothing() -> None:
    assert [0.0] == _hidden([box((-2, -2, 0), (2, 2, 0.01), Paint((0, 0, 0)))])


def test_a_tile_twice_as_tall_as_the_photo_is_half_hidden_by_the_border() -> None:
    body = sample_body(np.random.default_rng(0))
    width_seen = min(1.0, body.size[1] / 2 / body.size[0])

    assert [pytest.approx(1 - 0.5 * width_seen, abs=0.02)] == _hidden([], fill=2.0)


def test_the_quad_lies_on_the_painted_face_to_a_tenth_of_a_pixel() -> None:
    rng = np.random.default_rng(3)
    body = sample_body(np.random.default_rng(0))
    spots = [Spot(Shown(FACES[0]), turned(z=20), np.array([0, 0, body.size[2] / 2]), 0)]
    layout = Layout(spots, [], [corners_of(spots[0], body)])
    plan = Plan(layout, View(90, 0, 0, 6, 1.0, False, 0.5, (0.3, 0.1), 0))
    camera = aim(plan, 600)
    painting = paint_plan(plan, body, sample_style(rng), camera, rng)
    y, x = np.nonzero(painting.visible)
    (tile,) = truth(spots, body, camera, painting)

    np.testing.assert_allclose(
        tile.quad.mean(0), ((x.mean() + 0.5) / FINE, (y.mean() + 0.5) / FINE), atol=0.1
    )


def test_nearer_solids_are_painted_later() -> None:
    eye = np.array([0.0, -10, 5])
    black = Paint((0, 0, 0))
    far, near = box((-1, 2, 0), (1, 3, 1), black), box((-1, -1, 0), (1, 0, 1), black)
    on_top = box((-9, -9, 1), (9, 9, 1.1), black)
    everywhere = np.tile([0.0, 0, 100, 100], (3, 1))

    assert [1, 2, 0] == back_to_front([on_top, far, near], eye, everywhere)


def test_a_leaning_tile_faces_the_near_side_and_up() -> None:
    pose = standing(30)

    np.testing.assert_allclose([1, 0, 0], pose[:, 0], atol=1e-9)
    np.testing.assert_allclose([0, -np.cos(np.pi / 6), 0.5], pose[:, 2], atol=1e-9)


def test_a_folder_of_photos_carries_its_truth(tmp_path: Path) -> None:
    write(tmp_path / "a", 2, 5)
    write(tmp_path / "b", 1, 5)
    photos = json.loads((tmp_path / "a" / "truth.json").read_text(encoding="utf-8"))["photos"]
    first = json.loads((tmp_path / "b" / "truth.json").read_text(encoding="utf-8"))["photos"][0]

    assert ["00000.jpg", "00001.jpg"] == [photo["file"] for photo in photos]
    assert first == photos[0]
    for photo in photos:
        image = cv2.imread(str(tmp_path / "a" / photo["file"]))
        assert image is not None
        assert photo["size"] == [image.shape[1], image.shape[0]]
        for tile in photo["tiles"]:
            assert {"quad", "label", "row", "col", "skip"} == set(tile)
            assert tile["label"] in {*NAMES, "blank"}
            assert (4, 2) == np.shape(tile["quad"])
