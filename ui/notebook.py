"""The practice notebook: every attempt and every quiz answer of every learner, in one file of the user's data folder.

Both are only ever added; all else is derived from them (`engine.coverage`, `engine.scores`). The file is an SQLite
database in write-ahead mode, synchronised with the disk on every record: one is safe once `record` or
`record_answer` returns, whatever happens to the program or the power after that, and several windows may write at once.
"""

from __future__ import annotations

import contextlib
import os
import sqlite3
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Final, TypeVar

from tilewitness.engine.coverage import Attempt
from tilewitness.engine.scores import Answer
from tilewitness.ui import choices
from tilewitness.ui.csv_text import csv_text
from tilewitness.ui.notebook_lines import (
    ANSWER_COLUMNS,
    ANSWER_HEADS,
    ATTEMPT_COLUMNS,
    ATTEMPT_HEADS,
    answer_cells,
    answer_in,
    answer_row,
    attempt_cells,
    attempt_in,
    attempt_row,
)

Line = TypeVar("Line", Attempt, Answer)

PATIENCE: Final = 20.0
"""Seconds to wait for another window that is writing."""


def _table(name: str, columns: tuple[str, ...]) -> tuple[str, ...]:
    """A table whose lines are only ever added."""
    refuse = f"BEGIN SELECT RAISE(ABORT, '{name} are only ever added'); END"
    return (
        f"CREATE TABLE {name} (number INTEGER PRIMARY KEY AUTOINCREMENT, {' TEXT NOT NULL, '.join(columns)} TEXT NOT NULL)",
        f"CREATE TRIGGER {name}_are_not_changed BEFORE UPDATE ON {name} {refuse}",
        f"CREATE TRIGGER {name}_are_not_deleted BEFORE DELETE ON {name} {refuse}",
    )


_STEPS: Final = (
    _table("attempts", ATTEMPT_COLUMNS[:-1]),
    ("ALTER TABLE attempts ADD COLUMN unsure TEXT NOT NULL DEFAULT 'no'", *_table("answers", ANSWER_COLUMNS)),
)
"""What leads from each layout of the file to the next; its `user_version` tells how many of them it has gone."""


class NotebookError(ValueError):
    """The notebook cannot be opened or written to; the message names the file and says what to do.

    Attributes:
        damaged: the file is no notebook, or no longer; setting it aside helps.
    """

    def __init__(self, message: str, *, damaged: bool = False) -> None:
        super().__init__(message)
        self.damaged = damaged


class Notebook:
    """The attempts kept in one file, which is made when it is first written to.

    Args:
        path: the file; without one, that of the user's data folder.
    """

    def __init__(self, path: Path | None = None) -> None:
        self.path = path or choices.folder() / "practice.db"

    def record(self, attempt: Attempt) -> None:
        """Add an attempt. It is on the disk when this returns.

        Raises:
            NotebookError: it could not be kept.
        """
        self._add("attempts", ATTEMPT_COLUMNS, attempt_row(attempt))

    def record_answer(self, answer: Answer) -> None:
        """Add an answer to a quiz question. It is on the disk when this returns.

        Raises:
            NotebookError: it could not be kept.
        """
        self._add("answers", ANSWER_COLUMNS, answer_row(answer))

    def _add(self, table: str, columns: Sequence[str], row: Sequence[str]) -> None:
        with self._opened() as database:
            database.execute(f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({', '.join('?' * len(row))})", row)

    def attempts(self, learner: str | None = None) -> list[Attempt]:
        """Return the attempts of one learner, or of all, in the order they were recorded.

        Raises:
            NotebookError: the file cannot be read.
        """
        return [self._understood(attempt_in, row) for row in self._lines("attempts", ATTEMPT_COLUMNS, learner)]

    def answers(self, learner: str | None = None) -> list[Answer]:
        """Return the quiz answers of one learner, or of all, in the order they were recorded.

        Raises:
            NotebookError: the file cannot be read.
        """
        return [self._understood(answer_in, row) for row in self._lines("answers", ANSWER_COLUMNS, learner)]

    def learners(self) -> list[str]:
        """Return the names of all who have tried or answered something, in alphabetical order.

        Raises:
            NotebookError: the file cannot be read.
        """
        query = "SELECT learner FROM attempts UNION SELECT learner FROM answers ORDER BY learner"
        return [learner for (learner,) in self._rows(query)]

    def _lines(self, table: str, columns: Sequence[str], learner: str | None) -> list[tuple[str, ...]]:
        query = f"SELECT {', '.join(columns)} FROM {table} WHERE ?1 IS NULL OR learner = ?1 ORDER BY number"
        return self._rows(query, learner)

    def _rows(self, query: str, *values: str | None) -> list[tuple[str, ...]]:
        """Return what a query finds; nothing, and no file is made, before the first attempt."""
        if not self.path.exists():
            return []
        with self._opened() as database:
            return database.execute(query, values).fetchall()

    def _understood(self, make: Callable[..., Line], row: tuple[str, ...]) -> Line:
        try:
            return make(*row)
        except (ValueError, KeyError, TypeError) as error:
            raise self._unusable(error, damaged=True) from error

    def attempts_csv(self, learner: str | None = None) -> str:
        """Return the attempts as a table for a spreadsheet, in the order they were recorded."""
        return csv_text(ATTEMPT_HEADS, [attempt_cells(attempt) for attempt in self.attempts(learner)])

    def answers_csv(self, learner: str | None = None) -> str:
        """Return the quiz answers as a table for a spreadsheet, in the order they were recorded."""
        return csv_text(ANSWER_HEADS, [answer_cells(answer) for answer in self.answers(learner)])

    def set_aside(self) -> Path:
        """Give the file another name, whatever is in it, so that a new one can be begun; return that name.

        Raises:
            NotebookError: the folder cannot be written to.
        """
        aside = self.path.with_name(f"{self.path.stem} set aside {datetime.now():%Y-%m-%d %H.%M.%S}{self.path.suffix}")
        try:
            for part in ("-wal", "-shm", ""):  # what SQLite keeps beside the file goes with it, and goes first
                piece = self.path.with_name(self.path.name + part)
                if piece.exists():
                    piece.rename(aside.with_name(aside.name + part))
        except OSError as error:
            raise self._unusable(error, damaged=False) from error
        return aside

    @contextlib.contextmanager
    def _opened(self) -> Iterator[sqlite3.Connection]:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            database = sqlite3.connect(self.path, timeout=PATIENCE, isolation_level=None)
            with contextlib.closing(database):
                _prepare(database, self.path)
                yield database
        except OSError as error:
            raise self._unusable(error, damaged=False) from error
        except sqlite3.Error as error:
            # SQLite calls it an operational error when the disk or another program is the trouble, or a table is gone
            trouble = isinstance(error, sqlite3.OperationalError) and "no such" not in str(error)
            raise self._unusable(error, damaged=not trouble) from error

    def _unusable(self, error: Exception, *, damaged: bool) -> NotebookError:
        help_ = (
            "The file is damaged or no notebook: move it aside. A new one is begun, and the old one is left as it is."
            if damaged
            else "Is the disk full, or may you not write there?"
        )
        reason = error.strerror if isinstance(error, OSError) else error
        return NotebookError(f"{self.path}: the practice notebook cannot be used: {reason}. {help_}", damaged=damaged)


def _prepare(database: sqlite3.Connection, path: Path) -> None:
    database.execute("PRAGMA synchronous = FULL")
    database.execute("PRAGMA fullfsync = ON")  # macOS else leaves writes in the drive's own cache
    database.execute("PRAGMA checkpoint_fullfsync = ON")
    version = _version(database)
    if version > len(_STEPS):
        raise NotebookError(f"{path}: this practice notebook is of a newer Tilewitness. Update this one to use it.")
    if version < len(_STEPS):
        _write_ahead(database)
        _bring_up_to_date(database)
        _keep_name_of(path)


def _version(database: sqlite3.Connection) -> int:
    return int(database.execute("PRAGMA user_version").fetchone()[0])


def _bring_up_to_date(database: sqlite3.Connection) -> None:
    """Go the steps that are left, all or none; another window may just have gone them."""
    database.execute("BEGIN IMMEDIATE")
    for step in _STEPS[_version(database) :]:
        for order in step:
            database.execute(order)
    database.execute(f"PRAGMA user_version = {len(_STEPS)}")
    database.execute("COMMIT")


def _keep_name_of(path: Path) -> None:
    """Bring the name of a new file to the disk too, where a folder can be synchronised: not on Windows."""
    if hasattr(os, "O_DIRECTORY"):
        folder = os.open(path.parent, os.O_DIRECTORY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _write_ahead(database: sqlite3.Connection) -> None:
    """Turn write-ahead mode on; SQLite doesn't wait by itself for another window that does the same just now."""
    until = time.monotonic() + PATIENCE
    while True:
        try:
            database.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError:
            if time.monotonic() > until:
                raise
            time.sleep(0.02)
