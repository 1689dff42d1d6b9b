import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from skimage.measure import blur_effect

from tilewitness.vision.advice import advise, blur
from tilewitness.vision.photo import Photo
from tilewitness.vision.quads import Quads
from tilewitness.vision.reading import Advice, Trouble
from tilewitness.vision.rows import arrange
from tilewitness.vision.straighten import straighten

RACK = np.array([[(x, 200), (x + 60, 200), (x + 60, 280), (x, 280)] for x in range(100, 700, 60)], np.float32)


def rack_photo() -> NDArray[np.uint8]:
    """Ten ivory tiles with dark bars on green cloth."""
    pixels = np.full((500, 800, 3), (60, 110, 40), np.uint8)
    pixels[200:280, 100:700] = (215, 235, 240)
    for x in range(100, 700, 60):
        for bar in range(3):
            pixels[212:268, x + 12 + 14 * bar : x + 19 + 14 * bar] = (40, 60, 30)
    return pixels


def troubles(pixels: NDArray[np.uint8], quads: Quads = RACK) -> tuple[Advice, ...]:
    photo = Photo(pixels)
    return advise(photo, quads, straighten(photo, quads), arrange(quads))


def test_a_good_photo_needs_no_advice() -> None:
    assert () == troubles(rack_photo())


def test_no_tiles_is_said() -> None:
    assert (Advice(Trouble.NO_TILES),) == troubles(rack_photo(), np.empty((0, 4, 2), np.float32))


@pytest.mark.parametrize(
    ("step", "trouble", "places"),
    [
        ((-130, 0), Trouble.CUT_OFF_LEFT, ((0, 0),)),
        ((120, 0), Trouble.CUT_OFF_RIGHT, ((0, 9),)),
        ((0, -215), Trouble.CUT_OFF_TOP, tuple((0, place) for place in range(10))),
        ((0, 240), Trouble.CUT_OFF_BOTTOM, tuple((0, place) for place in range(10))),
    ],
)
def test_a_rack_over_the_border_names_the_side_and_the_tiles(
    step: tuple[int, int], trouble: Trouble, places: tuple[tuple[int, int], ...]
) -> None:
    moved = cv2.warpAffine(rack_photo(), np.array([(1, 0, step[0]), (0, 1, step[1])], float), (800, 500))

    assert Advice(trouble, places) in troubles(np.asarray(moved, np.uint8), RACK + np.array(step, np.float32))


def test_a_photo_cropped_to_its_tiles_is_not_cut_off() -> None:
    assert () == troubles(rack_photo()[200:280, 100:700], RACK - np.array((100, 200), np.float32))


def test_corners_guessed_beyond_the_border_do_not_make_a_whole_face_cut_off() -> None:
    cropped = rack_photo()[200:275, 100:700]
    guessed = RACK - np.array((100, 200), np.float32)
    guessed[:, 2:, 1] += 10  # the marks end at 68 of 80 pixels, the photo at 75, and the corners are put at 90

    assert () == troubles(cropped, guessed)
    assert (Advice(Trouble.CUT_OFF_BOTTOM, tuple((0, place) for place in range(10))),) == troubles(cropped[:66], guessed)


def test_the_side_of_the_last_tile_of_a_row_is_not_another_tile() -> None:
    pixels = rack_photo()
    pixels[200:280, 700:712] = (200, 220, 225)  # a fifth of a tile's width

    assert () == troubles(pixels[:, :712])


def test_a_part_of_a_tile_beyond_the_end_of_a_row_is_noticed() -> None:
    pixels, known = rack_photo()[:, 80:680], RACK[:-1] - np.array((80, 0), np.float32)

    assert (Advice(Trouble.CUT_OFF_RIGHT, ((0, 8),)),) == troubles(pixels, known)


def test_a_row_that_ends_near_the_border_is_not_cut_off() -> None:
    assert () == troubles(rack_photo()[:, 70:730], RACK - np.array((70, 0), np.float32))


def test_a_white_tile_in_full_light_is_no_glare() -> None:
    pixels = rack_photo()
    tile = pixels[200:280, 280:340]
    tile[tile > 200] = 255

    assert () == troubles(pixels)


def test_glare_names_its_tiles() -> None:
    pixels = rack_photo()
    cv2.ellipse(pixels, (310, 235), (45, 30), 0, 0, 360, (255, 255, 255), -1)

    assert (Advice(Trouble.GLARE, ((0, 3),)),) == tuple(a for a in troubles(pixels))


def test_a_bright_photo_whose_marks_are_clear_needs_no_advice() -> None:
    pixels = rack_photo()
    pixels[pixels > 200] = 255

    assert () == troubles(pixels)


def test_overexposed_and_dark_photos_are_told_apart() -> None:
    bright = np.clip(rack_photo().astype(int) + 180, 0, 255).astype(np.uint8)

    assert (Advice(Trouble.TOO_BRIGHT),) == troubles(bright)
    assert (Advice(Trouble.TOO_DARK),) == troubles((rack_photo() * 0.15).astype(np.uint8))


def test_a_blurred_photo_is_called_blurred() -> None:
    assert (Advice(Trouble.BLURRED),) == troubles(
        np.asarray(cv2.GaussianBlur(rack_photo(), (0, 0), 5), np.uint8)
    )


def test_a_shaken_photo_is_called_blurred() -> None:
    assert (Advice(Trouble.BLURRED),) == troubles(np.asarray(cv2.blur(rack_photo(), (15, 1)), np.uint8))


def test_small_tiles_are_too_far_whatever_their_sharpness() -> None:
    small = cv2.resize(rack_photo(), None, fx=0.3, fy=0.3, interpolation=cv2.INTER_AREA)

    assert (Advice(Trouble.TOO_FAR),) == troubles(np.asarray(small, np.uint8), RACK * np.float32(0.3))


def test_a_photo_from_a_low_or_sideways_place_is_slanted() -> None:
    flat, narrow = (np.diag(scale) for scale in ((1.0, 0.5), (0.45, 1.0)))

    for matrix in (flat, narrow):
        pixels = cv2.warpAffine(rack_photo(), np.c_[matrix, (0, 0)], (800, 500))
        assert Advice(Trouble.SLANTED) in troubles(
            np.asarray(pixels, np.uint8), (RACK @ matrix).astype(np.float32)
        )


def test_a_photo_on_its_side_is_to_be_turned() -> None:
    pixels = np.ascontiguousarray(np.rot90(rack_photo(), -1))
    quads = np.stack([500 - RACK[..., 1], RACK[..., 0]], -1)

    assert Advice(Trouble.SIDEWAYS) in troubles(pixels, quads)


def test_blur_is_measured_as_a_reference_library_does() -> None:
    # Source: scikit-image, skimage.measure.blur_effect, after Crété et al. 2007.
    for sigma in (0.5, 1.0, 2.0, 4.0):
        picture = np.asarray(cv2.GaussianBlur(rack_photo(), (0, 0), sigma), np.uint8)
        grey = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY)

        assert blur_effect(grey) == pytest.approx(float(blur(picture[None])[0]), abs=0.02)
