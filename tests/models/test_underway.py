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


def test_background_work_is_done_before_anything_else_is_told() -> None:
    done: list[bool] = []
    begin = threading.Event()

    def work() -> None:
        begin.wait(5)
        done.append(True)

    with pytest.raises(ValueError, match="told"), Underway(work):
        begin.set()
        raise ValueError("told")

    assert [True] == done
