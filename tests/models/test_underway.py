import threading

import pytest

from tilewitness.models.underway import Underway


def test_the_result_of_background_work_is_waited_for() -> None:
    ready = threading.Event()
    work = Underway(lambda: ready.wait(5))
    ready.set()

    assert work.result()


def test_what_goes_wrong_in_the_background_is_raised_where_the_result_is_wanted() -> None:
    with pytest.raises(ZeroDivisionError):
        Underway(lambda: 1 / 0).result()
