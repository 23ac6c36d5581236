"""Wrong use: one sentence in the program's own words, and 2 as the exit code (common practice, no source)."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.commands.conftest import Run


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("forecast", "There is no command 'forecast'; tracker --help shows its use."),
        (
            "finding",
            "There is no command 'finding' (perhaps findings is meant); tracker --help shows its use.",
        ),
        (
            "--recrod x",
            "tracker has no option --recrod (perhaps --record is meant); tracker --help shows its use.",
        ),
        (
            "put --mod 4",
            "tracker put has no option --mod (perhaps --mood or --to is meant); "
            "tracker put --help shows its use.",
        ),
        ("put --paper=yes", "--paper takes no value; tracker put --help shows its use."),
        ("undo twice", "tracker undo has no use for 'twice'; tracker undo --help shows its use."),
        ("history", "tracker history needs a DAY; tracker history --help shows its use."),
        ("show --grid moods", "--grid takes mood or sleep; tracker show --help shows its use."),
        (
            "show --year 20x6",
            "--year takes a whole number from 1900 to 2199; tracker show --help shows its use.",
        ),
        ("paper a.pdf --pitch wide", "--pitch takes a number; tracker paper --help shows its use."),
        (
            "findings --what tides",
            "--what: 'tides' is none of lags, seasons, shifts, weekdays; "
            "tracker findings --help shows its use.",
        ),
        (
            "rota nothing.ics",
            "File 'nothing.ics' does not exist; tracker rota --help shows its use.",
        ),
        (
            "show 2026-12",
            "A month goes behind --month: tracker show --month 2026-12; tracker show --help shows its use.",
        ),
        (
            "show 2026 --plain",
            "A year goes behind --year: tracker show --year 2026; tracker show --help shows its use.",
        ),
        (
            "show Yesterday",
            "A week goes behind --week: tracker show --week Yesterday; tracker show --help shows its use.",
        ),
        (
            "show sleep",
            "A grid goes behind --grid: tracker show --grid sleep; tracker show --help shows its use.",
        ),
        ("show tides", "tracker show has no use for 'tides'; tracker show --help shows its use."),
        ("show 2026 12", "tracker show has no use for '2026 12'; tracker show --help shows its use."),
        ("put --mood", "--mood needs a value; tracker put --help shows its use."),
        ("erase", "Name a day, or --everything; tracker erase --help shows its use."),
    ],
)
def test_it_is_one_sentence_and_begins_no_record(run: Run, path: Path, line: str, sentence: str) -> None:
    result = run(*line.split())
    assert (result.exit_code, result.stdout, result.stderr) == (2, "", sentence + "\n")
    assert not path.exists()


@pytest.mark.usefixtures("at_a_terminal")
def test_a_no_stops_without_a_usage(run: Run) -> None:
    run("put", "--mood", "4")
    result = run("erase", "today", typed="n\n")
    assert (result.exit_code, result.stderr) == (1, "Stopped.\n")


@pytest.mark.parametrize("line", ["--help", "--version", "put --help"])
def test_help_and_version_end_with_0(run: Run, line: str) -> None:
    result = run(*line.split())
    assert (result.exit_code, result.stderr) == (0, "")


def test_a_reader_that_stops_reading_is_no_error_of_the_program(tmp_path: Path) -> None:
    """As `tracker --help | head -1` does."""
    read, write = os.pipe()
    os.close(read)
    ran = subprocess.run(
        [sys.executable, "-m", "tracker", "--help"], stdout=write, stderr=subprocess.PIPE, check=False
    )
    os.close(write)
    assert (ran.returncode, ran.stderr) == (1, b"")
