"""Wrong use: one sentence in the program's own words, and 2 as the exit code (common practice, no source)."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker.diary.command_table import COMMANDS


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
            "tracker put has no option --mod (perhaps --mood, --to or --record is meant); "
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


Codes = Callable[[list[str]], dict[str, int]]
WRONG = [
    "change someday moved",
    "change --off",
    "put --mood 9", "put --sleep six", "put --hours 25", "put --anxious perhaps", "put --shift z",
    "put someday --mood 4", "put tomorrow --mood 4", "put --mood 4 --clear tides",
    "undo twice", "redo twice", "keys twice",
    "show --month 2026-13", "show --week someday", "show --year 1", "show --grid moods", "show tides",
    "history someday", "history",
    "findings --what tides", "findings --as-of someday", "findings --as-of tomorrow",
    "findings --words --json",
    "summary page.docx", "summary - --from someday", "summary - --to tomorrow", "summary",
    "paper grid.png", "paper grid.pdf --month 2026-13", "paper grid.pdf --pitch 1", "paper grid.pdf --dots 4",
    "export days.xls", "export kept.csv --from someday", "export days.json --notes",
    "export kept.csv --json", "export - --guide",
    "import days.csv --dates YDM", "import days.csv --column weather=x", "import days.csv --unmarked so",
    "rota", "rota --pattern z --from today", "rota --pattern n --from someday", "rota --pattern n",
    "change someday words", "change today --off", "change --off",
    "break someday", "break 2026-03-10 2026-03-01", "break --remove 2026-01-01",
    "trial tides", "trial plan --outcome tides", "trial plan --block 5", "trial missed someday",
    "scales tides", "scales mood --levels one", "scales sleep --bounds x", "scales mood --rename 9=x",
    "kinds q", "kinds n --hours late", "kinds n --code e",
    "settings tides", "settings lines perhaps", "settings theme tides", "settings country Harrowmere",
    "backup a.sqlite b.sqlite", "restore a.sqlite b.sqlite --tides", "check twice", "merge",
    "lock here", "lock --now --new-passphrase", "unlock --now",
    "erase", "erase someday", "erase --from 2026-03-10 --to 2026-03-01 --yes",
    "demo there", "help tides", "help put --no-own", "--record", "show --record",
]  # fmt: skip
CANNOT = [
    "import nothing.csv", "import nothing.json", "rota nothing.ics", "merge nothing.sqlite",
    "restore nothing.sqlite", "backup no-folder/copy.sqlite", "export no-folder/days.csv",
    "summary no-folder/page.txt", "paper no-folder/grid.pdf", "--record nothing.sqlite show",
    "show --record nothing.sqlite", "history today --record nothing.sqlite", "undo", "redo", "break --end",
    "put", "put --from mon", "demo", "erase today", "lock", "lock --new-passphrase", "unlock",
]  # fmt: skip
"""Right as typed: a file, a folder, a record or somebody to answer is what lacks."""


@pytest.fixture
def codes(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Codes:
    """The exit codes of some lines, each of which prints nothing and says one sentence."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "days.csv").write_text("date,mood\n2026-03-16,4\n")

    def codes_of(lines: list[str]) -> dict[str, int]:
        results = {line: run(*line.split()) for line in lines}
        talkative = [line for line, it in results.items() if it.stdout or it.stderr.count("\n") != 1]
        assert talkative == []
        return {line: result.exit_code for line, result in results.items()}

    return codes_of


def test_wrong_use_of_every_command_and_every_wrong_value_ends_with_2(run: Run, codes: Codes) -> None:
    run("put", "--mood", "4")
    assert codes(WRONG) == dict.fromkeys(WRONG, 2)


def test_what_is_typed_rightly_and_cannot_be_done_ends_with_1(codes: Codes) -> None:
    assert codes(CANNOT) == dict.fromkeys(CANNOT, 1)


def test_the_rule_is_tried_with_every_command() -> None:
    assert set(COMMANDS) - {word for line in WRONG for word in line.split()} == set()


def test_the_record_may_be_named_behind_the_command_too(run: Run, tmp_path: Path) -> None:
    other = str(tmp_path / "other.sqlite")
    run("put", "--mood", "4", "--record", other)
    assert (
        run("history", "--record", other, "today").stdout == run("--record", other, "history", "today").stdout
    )
    assert "mood 4 good" in run("history", "today", "--record", other).stdout
    assert [item.name for item in tmp_path.glob("*.sqlite")] == ["other.sqlite"]


@pytest.mark.usefixtures("at_a_terminal")
def test_a_no_stops_without_a_usage(run: Run) -> None:
    run("put", "--mood", "4")
    result = run("erase", "today", typed="n\n")
    assert (result.exit_code, result.stderr) == (1, "Stopped.\n")


@pytest.mark.parametrize("line", ["--help", "--version", "-V", "put --help", "help put"])
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
