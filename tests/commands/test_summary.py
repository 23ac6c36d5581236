"""`tracker summary`."""

from __future__ import annotations

import errno
import stat
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker import words
from tracker.diary.days import Change
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
HANDING_OVER = "\n".join(words.HANDING_OVER) + "\n"


@pytest.fixture
def month(path: Path) -> None:
    """Thirty days of mood and sleep up to today, and a note."""
    with Record.open(path) as record:
        for place in range(30):
            day = TODAY - timedelta(days=place)
            changes = [
                Change(day, "mood", f"mood5-{1 + place % 5}"),
                Change(day, "sleep", f"sleep8-{place % 8}"),
            ]
            record.keep(changes, "a day", basis="at the time")
        record.keep([Change(TODAY - timedelta(days=3), "note", "Swapped the late turn.")], "note")


pytestmark = pytest.mark.usefixtures("month")


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        ("page.txt", b"MOOD AND SLEEP, FROM MY OWN DIARY"),
        ("page.md", b"# Mood and sleep, from my own diary"),
        ("page.pdf", b"%PDF-1.7"),
        ("PAGE.PDF", b"%PDF-1.7"),
    ],
)
def test_the_ending_decides_and_the_file_is_private(
    run: Run, tmp_path: Path, name: str, begins: bytes
) -> None:
    page = tmp_path / name
    result = run("summary", str(page))
    assert result.stdout == f"The page is in {page}; nothing was sent or printed.\n"
    assert result.stderr == HANDING_OVER
    assert page.read_bytes().startswith(begins)
    assert stat.S_IMODE(page.stat().st_mode) == 0o600
    assert result.exit_code == 0


def test_a_dash_prints_the_text_alone_on_stdout(run: Run) -> None:
    result = run("summary", "-")
    assert result.stdout.startswith("MOOD AND SLEEP")
    assert result.stdout.endswith("medicines.\n")
    assert result.stderr == HANDING_OVER


def test_her_lines_are_kept_and_stand_on_the_page(run: Run, kept: Callable[[], Record]) -> None:
    result = run("summary", "--want", "To talk about  nights.", "--changed", "Since spring.", "--changed", "")
    assert result.stderr == "Kept for the page. tracker undo takes it back.\n"
    with kept() as record:
        lines = record.choices().page_lines
    assert (lines.wants, lines.changed) == (("To talk about nights.",), ("Since spring.",))
    assert "  1. To talk about nights.\n" in run("summary", "-").stdout


def test_an_empty_text_takes_her_lines_away(run: Run) -> None:
    run("summary", "--want", "To talk about nights.")
    run("summary", "--want", "")
    assert "To talk about nights." not in run("summary", "-").stdout


def test_more_lines_than_there_is_room_for_are_refused(run: Run, kept: Callable[[], Record]) -> None:
    result = run("summary", *(part for n in range(4) for part in ("--want", f"Line {n}")))
    assert (
        result.stderr == "What you would like takes 4 lines of the page; there is room for 3. Shorten it.\n"
    )
    assert result.exit_code == 2
    with kept() as record:
        assert record.choices().page_lines.wants == ()


def test_a_file_that_is_there_is_left_alone(run: Run, tmp_path: Path) -> None:
    page = tmp_path / "page.txt"
    page.write_text("mine")
    result = run("summary", str(page))
    assert result.stderr == (
        f"{page} is there already; add --force to write over it, or name another file.\n"
    )
    assert (result.exit_code, page.read_text()) == (1, "mine")


def test_force_writes_over_it(run: Run, tmp_path: Path) -> None:
    page = tmp_path / "page.txt"
    page.write_text("mine")
    run("summary", str(page), "--force")
    assert page.read_text().startswith("MOOD AND SLEEP")


@pytest.mark.parametrize(("answer", "begins"), [("y\n", "MOOD AND SLEEP"), ("n\n", "mine")])
def test_somebody_at_a_terminal_is_asked(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, answer: str, begins: str
) -> None:
    monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: True)
    page = tmp_path / "page.txt"
    page.write_text("mine")
    run("summary", str(page), typed=answer)
    assert page.read_text().startswith(begins)


def test_another_ending_is_refused(run: Run, tmp_path: Path) -> None:
    result = run("summary", str(tmp_path / "page.docx"))
    assert result.stderr == (
        f"A page ends in .pdf, .txt or .md, which {tmp_path / 'page.docx'} does not; "
        "- prints it here as text.\n"
    )


def test_a_missing_folder_is_named(run: Run, tmp_path: Path) -> None:
    result = run("summary", str(tmp_path / "no" / "page.txt"))
    assert result.stderr == (
        f"{HANDING_OVER}{tmp_path / 'no' / 'page.txt'} cannot be written: "
        f"the folder {tmp_path / 'no'} is not there.\n"
    )


@pytest.mark.parametrize("name", ["page.txt", "page.pdf"])
def test_a_full_disk_leaves_no_half_page(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    def full(self: Path, data: bytes) -> int:
        with self.open("wb") as file:
            file.write(data[:100])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    result = run("summary", str(tmp_path / name))
    assert result.stderr == f"{HANDING_OVER}{tmp_path / name} cannot be written: no space left on device.\n"
    assert not [file for file in tmp_path.iterdir() if "page" in file.name]


def test_a_period_is_hers_to_choose(run: Run) -> None:
    result = run("summary", "-", "--from", "2026-03-01", "--to", "2026-03-10")
    assert "1 Mar to 10 Mar 2026" in result.stdout


@pytest.mark.parametrize(
    ("period", "sentence"),
    [
        (
            ("--from", "2026-03-10", "--to", "2026-03-01"),
            "The page would begin on 2026-03-10, after it ends on 2026-03-01; change one of them.\n",
        ),
        (
            ("--from", "2020-01-01", "--to", "2020-02-01"),
            "Nothing is kept from 2020-01-01 to 2020-02-01, so there is no page to write; "
            "choose other days.\n",
        ),
        (("--to", "2026-03-18"), "2026-03-18 is still to come; the page can end today at the latest.\n"),
    ],
)
def test_an_impossible_period_is_refused(run: Run, period: tuple[str, ...], sentence: str) -> None:
    result = run("summary", "-", *period)
    assert (result.stderr, result.exit_code) == (sentence, 2)


def test_notes_come_only_when_asked_for(run: Run) -> None:
    assert "Swapped" not in run("summary", "-").stdout
    assert "14 Mar: Swapped the late turn." in run("summary", "-", "--notes").stdout
    assert "14 Mar: Swapped the late turn." in run("summary", "-", "--note", "2026-03-14").stdout


def test_what_had_no_room_is_said(run: Run, kept: Callable[[], Record]) -> None:
    with kept() as record:
        record.keep([Change(TODAY, "note", "Long. " * 300)], "note")
    result = run("summary", "-", "--notes")
    assert result.stderr == f"{HANDING_OVER}Left out, for want of room on one side: the notes.\n"


def test_without_a_file_a_name_is_offered(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: True)
    monkeypatch.chdir(tmp_path)
    result = run("summary", typed="\n")
    assert "File for the page [mood-and-sleep-2026-03-17.pdf]: " in result.stdout
    assert Path("mood-and-sleep-2026-03-17.pdf").read_bytes().startswith(b"%PDF")


def test_without_a_file_and_without_anybody_it_says_how_to_name_one(run: Run) -> None:
    result = run("summary")
    assert result.exit_code == 2
    assert (
        "Name a file that ends in .pdf, .txt or .md, like mood-and-sleep-2026-03-17.pdf, or - for text here"
    ) in result.stderr


@pytest.mark.parametrize("command", ["summary", "paper"])
def test_the_record_itself_is_never_written_over(
    run: Run, path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    disguised = path.with_name("record.pdf")
    path.rename(disguised)
    monkeypatch.setenv("TRACKER_RECORD", str(disguised))
    result = run(command, str(disguised), "--force")
    assert result.stderr == f"{disguised} is the record itself; name another file.\n"
    assert disguised.read_bytes().startswith(b"SQLite format 3")


def test_help_carries_the_caution(run: Run) -> None:
    assert words.CAUTION in " ".join(run("summary", "--help").stdout.split())


def test_an_empty_record_has_no_page(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda *_, **__: tmp_path / "nothing")
    result = run("summary", "-")
    assert result.stderr == ("Nothing is kept yet, so there is no page to write; tracker put keeps a day.\n")


def test_who_may_see_it_is_said_before_the_file_is_asked_for(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: True)
    monkeypatch.chdir(tmp_path)
    output = run("summary", typed="\n").output
    assert output.index("colleagues with") < output.index("File for the page")


def test_her_name_stands_on_the_page_and_is_kept_nowhere(
    run: Run, tmp_path: Path, kept: Callable[[], Record], path: Path
) -> None:
    page = tmp_path / "page.txt"
    run("summary", str(page), "--name", "A. Relief Signaller", "--born", "1 April 1980")
    assert "Name A. Relief Signaller                     Born 1 April 1980\n" in page.read_text()
    with kept():
        holding = [
            file for file in path.parent.rglob("*") if file.is_file() and b"Signaller" in file.read_bytes()
        ]
    assert holding == [page]


def test_a_dash_asks_for_the_name_so_that_no_shell_keeps_it(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tracker.commands.terminal.somebody_is_there", lambda: True)
    page = tmp_path / "page.txt"
    run("summary", str(page), "--name", "-", "--born", "-", typed="A. Relief Signaller\n\n")
    assert "Name A. Relief Signaller                     Born ____" in page.read_text()


def test_a_dash_where_nobody_can_answer_is_refused(run: Run) -> None:
    result = run("summary", "-", "--name", "-")
    assert result.exit_code != 0
    assert "Nobody can answer here" in result.stderr


def test_letters_that_cannot_be_printed_are_said_before_it_is_written(run: Run, tmp_path: Path) -> None:
    result = run("summary", str(tmp_path / "page.txt"), "--ascii", "--want", "夜勤")
    assert result.stderr.splitlines()[-1] == (
        "'What I would like', line 1, has letters that ASCII does not have (Chinese): "
        "that line is left to write on."
    )
    assert "夜勤" in run("summary", "-").stdout


def test_a_default_page_has_no_own_names_of_shifts_and_none_at_all_where_asked(run: Run) -> None:
    run("kinds", "b", "--label", "Cawbrook box")
    for day in range(1, 9):
        run("put", f"2026-03-0{day}", "--shift", "b")
    assert "Cawbrook" not in run("summary", "-").stdout
    assert "x another shift" in run("summary", "-").stdout
    assert "b Cawbrook box" in run("summary", "-", "--shifts").stdout
    assert "shift" not in run("summary", "-", "--no-shifts").stdout
