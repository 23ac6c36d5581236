"""CSV against RFC 4180, section 2, and JSON against RFC 8259; SQLite's own shell reads our file as a judge.

The three examples are those of RFC 4180, section 2, rules 5 to 7, with a quoted line break.
"""

import json
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest

from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.record.csv_days import HowToRead, days_as_csv, rows_of


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        (
            '"date","note"\r\n2026-03-17,"bb \r\nbb"\r\n2026-03-18,yyy\r\n',
            ["bb \r\nbb", "yyy"],
        ),
        ('date,note\r\n2026-03-17,"b""bb"\r\n', ['b"bb']),
        ("date,note\r\n2026-03-17, spaces belong to the field \r\n", [" spaces belong to the field "]),
        (
            "date,note\r\n2026-03-17,the last record may lack its line break",
            ["the last record may lack its line break"],
        ),
    ],
)
def test_rows_are_read_by_the_rules_of_the_rfc(text: str, cells: list[str]) -> None:
    rows, faults = rows_of(text, "x.csv", HowToRead())
    assert (faults, [row.cells["note"] for row in rows]) == ([], cells)


def test_rows_are_written_by_the_rules_of_the_rfc() -> None:
    days = [Day(date(2026, 3, 17), note=Square('a, "b"\nc')), Day(date(2026, 3, 18), mood=Square("mood5-1"))]
    assert days_as_csv(days, Choices(), notes=True) == (
        'date,mood,sleep,hours,anxious,shift,note\r\n2026-03-17,,,,,,"a, ""b""\nc"\r\n2026-03-18,1,,,,,\r\n'
    )


@pytest.mark.skipif(shutil.which("sqlite3") is None, reason="the shell of SQLite is not installed")
def test_another_program_reads_the_same_cells(tmp_path: Path) -> None:
    file = tmp_path / "days.csv"
    note = 'one, "two"\nthree'
    file.write_bytes(days_as_csv([Day(date(2026, 3, 17), note=Square(note))], Choices(), True).encode())
    shown = subprocess.run(
        ["sqlite3", "-json", ":memory:", f".import --csv {file} t", "select date, note from t"],
        capture_output=True,
        check=True,
        text=True,
    )
    assert json.loads(shown.stdout) == [{"date": "2026-03-17", "note": note}]
