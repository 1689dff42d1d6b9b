"""Rows as CSV, the way spreadsheets read it (RFC 4180)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    r"""Return a line of headings and a line a row.

    >>> csv_text(("hand", "faults"), [("Steps", "one, two")])
    'hand,faults\r\nSteps,"one, two"\r\n'
    """
    file = io.StringIO()
    writer = csv.writer(file)
    writer.writerow(heads)
    writer.writerows(rows)
    return file.getvalue()
