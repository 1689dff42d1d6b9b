"""The practice notebook: every attempt of every learner, in one file of the user's own data folder.

Attempts are only ever added; all else is derived from them (`engine.coverage`). The file is an SQLite database in
write-ahead mode, synchronised with the disk on every attempt: an attempt is safe once `record` returns, whatever
happens to the program or the power after that, and several windows may write at once.
"""

from __future__ import annotations

import contextlib
import json
import os
import sqlite3
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Final

from tilewitness.engine.coverage import Attempt, HandId
from tilewitness.engine.opinion import Fault
from tilewitness.ui import choices
from tilewitness.ui.csv_text import csv_text

VERSION: Final = 1
"""Of the layout of the file, in its `user_version`."""
PATIENCE: Final = 20.0
"""Seconds to wait for another window that is writing."""

_COLUMNS: Final = ("learner", "at", "card", "section", "hand", "wording", "rack", "way", "faults")
_LAYOUT: Final = f"""
BEGIN IMMEDIATE;
CREATE TABLE IF NOT EXISTS attempts (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    {", ".join(f"{column} TEXT NOT NULL" for column in _COLUMNS)}
);
CREATE TRIGGER IF NOT EXISTS attempts_are_not_changed BEFORE UPDATE ON attempts
BEGIN SELECT RAISE(ABORT, 'attempts are only ever added'); END;
CREATE TRIGGER IF NOT EXISTS attempts_are_not_deleted BEFORE DELETE ON attempts
BEGIN SELECT RAISE(ABORT, 'attempts are only ever added'); END;
PRAGMA user_version = {VERSION};
COMMIT;
"""
CSV_HEADS: Final = ("learner", "when", "card", "section", "hand", "right", "faults", "way", "rack")


class NotebookError(ValueError):
    """The notebook cannot be opened or written to; the message names the file and says what to do."""


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
        hand = attempt.hand
        faults = json.dumps([fault.value for fault in attempt.faults])
        row = (
            attempt.learner, attempt.at.isoformat(), hand.card, hand.section, hand.hand, hand.wording,
            attempt.rack, attempt.way, faults,
        )  # fmt: skip
        marks = ", ".join("?" * len(row))
        with self._opened() as database:
            database.execute(f"INSERT INTO attempts ({', '.join(_COLUMNS)}) VALUES ({marks})", row)

    def attempts(self, learner: str | None = None) -> list[Attempt]:
        """Return the attempts of one learner, or of all, in the order they were recorded.

        Raises:
            NotebookError: the file cannot be read.
        """
        query = f"SELECT {', '.join(_COLUMNS)} FROM attempts WHERE ?1 IS NULL OR learner = ?1 ORDER BY number"
        return [_attempt(*row) for row in self._rows(query, learner)]

    def learners(self) -> list[str]:
        """Return the names of all who have tried something, in alphabetical order.

        Raises:
            NotebookError: the file cannot be read.
        """
        return [learner for (learner,) in self._rows("SELECT DISTINCT learner FROM attempts ORDER BY learner")]

    def _rows(self, query: str, *values: str | None) -> list[tuple[str, ...]]:
        """Return what a query finds; nothing, and no file is made, before the first attempt."""
        if not self.path.exists():
            return []
        with self._opened() as database:
            return database.execute(query, values).fetchall()

    def csv(self, learner: str | None = None) -> str:
        """Return the attempts as a table for a spreadsheet, in the order they were recorded."""
        return csv_text(CSV_HEADS, [_cells(attempt) for attempt in self.attempts(learner)])

    @contextlib.contextmanager
    def _opened(self) -> Iterator[sqlite3.Connection]:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            database = sqlite3.connect(self.path, timeout=PATIENCE, isolation_level=None)
            with contextlib.closing(database):
                _prepare(database, self.path)
                yield database
        except (sqlite3.Error, OSError) as error:
            raise NotebookError(
                f"{self.path}: the practice notebook cannot be used: {error}. "
                "Is the disk full, or may you not write there? If the file is damaged, move it aside: "
                "a new one is begun, and the old one is left as it is."
            ) from error


def _prepare(database: sqlite3.Connection, path: Path) -> None:
    database.execute("PRAGMA synchronous = FULL")
    database.execute("PRAGMA fullfsync = ON")  # macOS else leaves writes in the drive's own cache
    database.execute("PRAGMA checkpoint_fullfsync = ON")
    (version,) = database.execute("PRAGMA user_version").fetchone()
    if version > VERSION:
        raise NotebookError(f"{path}: this practice notebook is of a newer Tilewitness. Update this one to use it.")
    if version < VERSION:
        _write_ahead(database)
        database.executescript(_LAYOUT)
        _keep_name_of(path)


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


def _attempt(
    learner: str, at: str, card: str, section: str, hand: str, wording: str, rack: str, way: str, faults: str
) -> Attempt:
    known = tuple(Fault(value) for value in json.loads(faults))
    return Attempt(learner, datetime.fromisoformat(at), HandId(card, section, hand, wording), rack, way, known)


def _cells(attempt: Attempt) -> tuple[str, ...]:
    hand = attempt.hand
    faults = "; ".join(fault.value for fault in attempt.faults)
    right = "yes" if attempt.right else "no"
    when = attempt.at.isoformat(timespec="seconds")
    return attempt.learner, when, hand.card, hand.section, hand.hand, right, faults, attempt.way, attempt.rack
