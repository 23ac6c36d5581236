"""Reads the small published tables beside the outside checks."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

from tracker.analysis.series import Floats

DATA = Path(__file__).with_name("data")


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of a table, as text."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def column(name: str, heading: str) -> Floats:
    """Return one column of a table as numbers, nan for an empty cell."""
    return np.array([float(row[heading] or "nan") for row in rows(name)])
