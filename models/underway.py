"""Work that goes on in the background, for one result."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, Self, TypeVar

_Result = TypeVar("_Result")


class Underway(Generic[_Result]):
    """One call in a thread of its own, to be left only when it is done.

    A thread pool would do, but loading the standard library's takes a while.
    """

    def __init__(self, work: Callable[[], _Result]) -> None:
        self._work = work
        self._outcome: _Result | Exception
        self._thread = threading.Thread(target=self._run)
        self._thread.start()

    def _run(self) -> None:
        try:
            self._outcome = self._work()
        except Exception as error:  # noqa: BLE001  # raised again for whoever asks for the result
            self._outcome = error

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._thread.join()

    def result(self) -> _Result:
        """Wait for the result; or raise what the call raised."""
        self._thread.join()
        if isinstance(self._outcome, Exception):
            raise self._outcome
        return self._outcome
