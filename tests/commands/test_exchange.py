"""`tracker export` and `tracker import`. Today is Tuesday 17 March 2026."""

import stat
from collections import Counter
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.commands.conftest import Run
from tests.record.sample import fill
from tests.record.test_rota_files import calendar
from tracker.diary import changes
from tracker.record import csv_days
from tracker.record.csv_days import COLUMNS
from tracker.record.json_export import record_as_json
from tracker.record.store import Record

Kept = Callable[[], Record]
SLEEP_NOTE = "Each sleep is taken as that of the day of getting up; --sleep-under going-to-bed moves it.\n"


@pytest.fixture
def filled(kept: Kept) -> None:
    with kept() as record:
        fill(record)


def write(folder: Path, text: str) -> str:
    file = folder / "days.csv"
    file.write_text(text, newline="")
    return str(file)


class TestExport:
    @pytest.mark.usefixtures("filled")
    def test_the_days_as_csv_come_without_notes(self, run: Run, tmp_path: Path) -> None:
        file = tmp_path / "days.csv"
        assert run("export", str(file)).stdout == f"Wrote the days to {file}, without notes.\n"
        assert file.read_bytes().decode() == (
            "date,mood,sleep,hours,anxious,shift,note\r\n"
            "2025-01-03,3,,,,,\r\n"
            "2026-03-16,4,,,,,\r\n"
            "2026-03-17,?,6-7 h,6.5,,n,\r\n"
        )
        assert stat.S_IMODE(file.stat().st_mode) == 0o600

    @pytest.mark.usefixtures("filled")
    def test_notes_and_a_span_on_request(self, run: Run, tmp_path: Path) -> None:
        file = tmp_path / "days.csv"
        run("export", str(file), "--notes", "--from", "today")
        assert file.read_bytes().decode() == (
            "date,mood,sleep,hours,anxious,shift,note\r\n"
            '2026-03-17,?,6-7 h,6.5,,n,"Sunrise over the Selderby Halt box: \u2600, ""tea""\nand cake"\r\n'
        )

    def test_levels_that_changed_are_told_of_and_listed(self, run: Run, tmp_path: Path) -> None:
        file = tmp_path / "days.csv"
        run("put", "mon", "--mood", "3")
        run("scales", "mood", "--levels", "bad, so-so, fine", "--from", "today")
        run("put", "--mood", "3")
        result = run("export", str(file), "--guide")
        assert result.stderr == (
            "mood was kept by 2 sets of levels (from the beginning; from 17 March 2026), and CSV does not "
            "say which is whose; --guide lists them, and JSON keeps them apart.\n"
        )
        guide = (tmp_path / "days.csv.columns.txt").read_text()
        assert "         from 17 March 2026:\n         1: bad\n         2: so-so\n         3: fine\n" in guide
        assert "         from the beginning:\n         1: very low\n" in guide
        assert run("export", str(file), "--force", "--from", "today").stderr == ""

    @pytest.mark.usefixtures("filled")
    def test_the_guide_lies_beside_it(self, run: Run, tmp_path: Path) -> None:
        file = tmp_path / "days.csv"
        run("export", str(file), "--guide")
        guide = (tmp_path / "days.csv.columns.txt").read_text()
        assert guide.startswith("What the columns of days.csv hold.")
        assert "Not a clinical screening tool." in guide

    def test_a_file_that_is_there_is_not_written_over(self, run: Run, tmp_path: Path) -> None:
        file = write(tmp_path, "mine")
        result = run("export", file)
        assert (result.exit_code, result.stderr) == (1, f"{file} is there already; --force writes over it.\n")
        assert Path(file).read_text() == "mine"
        assert run("export", file, "--force").exit_code == 0

    def test_the_record_itself_is_never_written_over(self, run: Run, path: Path) -> None:
        run("put", "--mood", "4")
        assert (
            run("export", str(path), "--force").stderr == f"{path} is the record itself; name another file.\n"
        )

    def test_other_endings_are_refused(self, run: Run, tmp_path: Path) -> None:
        result = run("export", str(tmp_path / "days.xlsx"))
        assert result.stderr.endswith("the name must end in .csv, .json or .json.age.\n")

    def test_options_of_csv_do_not_go_with_json(self, run: Run, tmp_path: Path) -> None:
        assert run("export", str(tmp_path / "a.json"), "--notes").exit_code == 2


class TestImport:
    def test_new_squares_are_kept_as_one_action(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        file = write(tmp_path, "date,mood,sleep\n2026-03-15,3,6\n2026-03-16,2,7-8 h\n")
        result = run("import", file)
        assert result.stdout == (
            "4 squares new, 0 as they stand, 0 that differ, 2026-03-15 to 2026-03-16.\n"
            "Kept 4 squares. tracker undo takes them back.\n"
        )
        assert result.stderr == SLEEP_NOTE
        assert run("undo").stdout.startswith("Taken back: import of days.csv, Sun 15 March to Mon 16 March.")
        with kept() as record:
            assert record.days() == {}

    def test_what_came_is_counted_by_what_it_is(self, run: Run, tmp_path: Path) -> None:
        file = write(
            tmp_path, "date,mood,sleep,anxious,shift,note\n2026-03-15,3,6,no,n,tea\n2026-03-16,2,,,l,\n"
        )
        assert run("import", file).stdout == (
            "3 squares, 1 mark, 2 shifts and 1 note new, 0 as they stand, 0 that differ, "
            "2026-03-15 to 2026-03-16.\n"
            "Kept 3 squares, 1 mark, 2 shifts and 1 note. tracker undo takes them back.\n"
        )

    def test_what_this_program_wrote_comes_back_as_it_stands(self, run: Run, tmp_path: Path) -> None:
        """Also shifts at hours of their own, which the file does not name."""
        rota = tmp_path / "rota.ics"
        rota.write_text(calendar("UID:a\nSUMMARY:night\nDTSTART:20260320T220000\nDTEND:20260321T060000"))
        run("rota", str(rota))
        run("put", "--mood", "4", "--hours", "6.5")
        run("export", str(tmp_path / "days.csv"))
        assert run("import", str(tmp_path / "days.csv")).stdout == (
            "Nothing new, 4 as they stand, 0 that differ.\nNothing was kept.\n"
        )

    def test_a_spreadsheet_with_semicolons_and_dates_with_points_is_read(
        self, run: Run, tmp_path: Path, kept: Kept
    ) -> None:
        file = write(tmp_path, "Datum;Dienst;Schlaf\n16.03.2026;n;6,5\n")
        run("import", file, "--column", "date=Datum", "--column", "shift=Dienst", "--column", "hours=Schlaf")
        with kept() as record:
            day = record.day(date(2026, 3, 16))
            assert (day.shift_kind, day.hours) == ("night", 6.5)

    def test_the_help_names_every_column(self, run: Run) -> None:
        listed = [line.split()[0] for line in run("import", "--help").stdout.splitlines() if line.strip()]
        assert [name for name in COLUMNS if name not in listed] == []

    def test_a_dry_run_keeps_nothing(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        result = run("import", write(tmp_path, "date,mood\n2026-03-15,3\n"), "--dry-run")
        assert result.stdout.endswith("Nothing was changed, because this was a dry run.\n")
        with kept() as record:
            assert record.is_empty()

    def test_a_kept_square_is_listed_and_left(self, run: Run, tmp_path: Path) -> None:
        run("put", "mon", "--mood", "4")
        file = write(tmp_path, "date,mood,anxious\n2026-03-16,2,no\n2026-03-15,2,\n")
        assert run("import", file).stdout == (
            "1 square new, 1 as they stand, 1 that differs, 2026-03-15 to 2026-03-16.\n"
            "  2026-03-16: mood 4 good stands; the file has mood 2 low.\n"
            "These stay as they stand; --replace takes the file's.\n"
            "Kept 1 square. tracker undo takes it back.\n"
            "The record now begins on 15 March 2026; tracker undo takes it back.\n"
        )
        assert "mood 2 low" not in run("history", "mon").stdout

    def test_with_replace_the_file_wins(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        run("put", "mon", "--mood", "4")
        run("import", write(tmp_path, "date,mood\n2026-03-16,2\n"), "--replace")
        with kept() as record:
            mood = record.day(date(2026, 3, 16)).mood
            assert mood is not None
            assert mood.value == "mood5-2"

    @pytest.mark.parametrize(
        ("options", "basis"),
        [([], "at the time"), (["--paper"], "paper"), (["--remembered"], "remembered")],
    )
    def test_what_the_days_rest_on(
        self, run: Run, tmp_path: Path, kept: Kept, options: list[str], basis: str
    ) -> None:
        run("import", write(tmp_path, "date,mood\n2025-03-16,2\n"), *options)
        with kept() as record:
            assert [entry.basis for entry in record.history(date(2025, 3, 16))] == [basis]

    def test_a_broken_file_keeps_nothing_and_lists_its_faults(
        self, run: Run, tmp_path: Path, kept: Kept
    ) -> None:
        file = write(tmp_path, "date,mood\n2026-03-15,3\n2026-03-16,9\nyesterday,1\n")
        result = run("import", file)
        assert result.exit_code == 1
        assert result.stderr == (
            f"{file}: line 3, mood: '9' is no level of mood; "
            "there are: 1 very low, 2 low, 3 even, 4 good, 5 very good.\n"
            f"{file}: line 4, date: 'yesterday' is no date in the order YMD (like 2026-03-17).\n"
            "Nothing was kept; mend these lines and import the file again.\n"
        )
        with kept() as record:
            assert record.is_empty()

    def test_columns_of_others_dates_and_going_to_bed(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        file = write(tmp_path, "Datum,Schlaf,Wetter\n15.03.2026,6,Regen\n")
        run(
            "import", file, "--column", "date=Datum", "--column", "sleep=Schlaf", "--ignore-columns",
            "--dates", "DMY", "--sleep-under", "going-to-bed",
        )  # fmt: skip
        with kept() as record:
            assert list(record.days()) == [date(2026, 3, 16)]

    @pytest.mark.usefixtures("at_a_terminal")
    def test_a_foreign_file_is_asked_about_at_a_terminal(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        file = write(tmp_path, "date,sleep,weather\n2026-03-15,6,rain\n")
        result = run("import", file, "--ignore-columns", typed="going-to-bed\n")
        assert "Does a sleep stand under the date of getting up, or of going to bed?" in result.output
        with kept() as record:
            assert list(record.days()) == [date(2026, 3, 16)]

    @pytest.mark.usefixtures("at_a_terminal")
    def test_a_paper_year_is_asked_what_no_mark_means(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        file = write(tmp_path, "date,mood,anxious\n2025-03-15,3,\n2025-03-16,2,yes\n")
        run("import", file, "--paper", typed="y\n")
        with kept() as record:
            assert [day.is_anxious for day in record.days().values()] == [False, True]

    def test_a_wrong_column_option_is_wrong_use(self, run: Run, tmp_path: Path) -> None:
        file = write(tmp_path, "date,mood\n")
        assert run("import", file, "--column", "weather=x").exit_code == 2
        assert run("import", str(tmp_path / "nothing.csv")).exit_code == 1

    def test_ten_years_come_in_and_out_again(self, run: Run, tmp_path: Path) -> None:
        days = [date(2016, 1, 1) + timedelta(n) for n in range(3650)]
        text = "date,mood,sleep,hours,anxious,shift,note\r\n" + "".join(
            f"{day},{n % 5 + 1},{n % 6 + 2}-{n % 6 + 3} h,,,,\r\n".replace("2-3 h", "under 3 h")
            for n, day in enumerate(days)
        )
        assert run("import", write(tmp_path, text)).exit_code == 0
        run("export", str(tmp_path / "again.csv"))
        assert (tmp_path / "again.csv").read_bytes().decode() == text


def test_one_column_of_the_file_cannot_be_two_of_ours(run: Run, tmp_path: Path) -> None:
    file = write(tmp_path, "date,Schlaf\n2026-03-16,6\n")
    result = run("import", file, "--column", "sleep=Schlaf", "--column", "hours=Schlaf")
    assert result.exit_code == 2
    assert "--column names 'Schlaf' twice; a column can be one of ours only" in result.stderr


class TestWholeRecord:
    def test_json_goes_there_and_back(self, run: Run, tmp_path: Path, kept: Kept) -> None:
        with kept() as record:
            fill(record)
            before = record_as_json(record)
        file, other = tmp_path / "record.json", tmp_path / "other.sqlite"
        assert run("export", str(file)).stdout == (
            f"Wrote the whole record, history and notes included, to {file}.\n"
        )
        assert file.read_text() == before
        assert (
            run("--record", str(other), "import", str(file)).stdout == "8 entries and 7 settings come in.\n"
        )
        with Record.open(other) as copy:
            assert record_as_json(copy) == before

    @pytest.mark.usefixtures("filled")
    def test_into_a_record_with_days_it_is_joined_after_a_copy(self, run: Run, tmp_path: Path) -> None:
        file = tmp_path / "record.json"
        run("export", str(file))
        run("put", "--mood", "1")
        assert run("import", str(file)).stdout == "Everything in it stands here already.\n"

    def test_a_broken_export_is_refused(self, run: Run, tmp_path: Path) -> None:
        file = tmp_path / "record.json"
        file.write_text('{"program": "tracker-days", "schema": 1, "entry": [NaN]}')
        result = run("import", str(file))
        assert result.exit_code == 1
        assert result.stderr.startswith(f"{file}: this is no JSON of ours (NaN is no number).\n")

    @pytest.mark.usefixtures("at_a_terminal", "filled")
    def test_a_locked_export_opens_with_its_passphrase(self, run: Run, tmp_path: Path) -> None:
        file, other = tmp_path / "record.json.age", tmp_path / "other.sqlite"
        run("export", str(file), typed="relief turn at Wenfold\nrelief turn at Wenfold\n")
        assert file.read_bytes().startswith(b"age-encryption.org/v1")
        result = run("--record", str(other), "import", str(file), typed="relief turn at Wenfold\n")
        assert result.stdout.endswith("8 entries and 7 settings come in.\n")

    @pytest.mark.usefixtures("filled")
    def test_without_a_terminal_nothing_is_locked(self, run: Run, tmp_path: Path) -> None:
        result = run("export", str(tmp_path / "record.json.age"))
        assert result.stderr.startswith("Nobody can answer here")
        assert not (tmp_path / "record.json.age").exists()


def test_a_file_of_days_is_checked_once_a_square_and_the_days_are_read_once(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = [f"2026-01-{day:02},{day % 5 + 1},6" for day in range(1, 32)]
    counts: Counter[str] = Counter()

    def counted(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*values: Any, **more: Any) -> Any:
            counts[name] += 1
            return real(*values, **more)

        return call

    check = counted("checks", changes.check)
    for module in (changes, csv_days):
        monkeypatch.setattr(module, "check", check)
    monkeypatch.setattr(Record, "days", counted("reads", Record.days))
    monkeypatch.setattr("tracker.record.backups.keep_backups", lambda record: None)  # which checks every row
    monkeypatch.setattr(Record, "first_day", lambda record: None)  # which looks at single days
    file = write(tmp_path, "\n".join(["date,mood,sleep", *rows]))
    assert run("import", file).stdout.splitlines()[-1].startswith("Kept 62 squares.")
    assert counts == {"checks": 62, "reads": 1}


class TestAnotherProgram:
    """`-` for a file is the output or the input of a pipe (POSIX utility conventions, guideline 13)."""

    @pytest.mark.usefixtures("filled")
    def test_the_days_go_out_and_nothing_else(self, run: Run, tmp_path: Path) -> None:
        assert run("export", "-", "--from", "yesterday").stdout_bytes == (
            b"date,mood,sleep,hours,anxious,shift,note\r\n2026-03-16,4,,,,,\r\n2026-03-17,?,6-7 h,6.5,,n,\r\n"
        )
        assert not (tmp_path / "-").exists()

    @pytest.mark.usefixtures("filled")
    def test_a_whole_record_goes_out_and_comes_in(self, run: Run, tmp_path: Path) -> None:
        whole = run("export", "-", "--json").stdout
        other = str(tmp_path / "other.sqlite")
        assert "come in." in run("--record", other, "import", "-", typed=whole).stdout
        assert run("--record", other, "export", "-", "--json").stdout == whole

    def test_days_come_in_and_undo_names_where_from(self, run: Run) -> None:
        run("import", "-", typed="\ufeffdate,mood\n2026-03-16,4\n")
        assert run("undo").stdout.startswith("Taken back: import of standard input, Mon 16 March.")

    @pytest.mark.parametrize(
        ("typed", "fault"),
        [
            ("date,mood\n2026-03-16,9\n", "standard input: line 2, mood: '9' is no level of mood"),
            ('{"broken":', "standard input.json: line 1: this is no JSON"),
            ("", "standard input: line 1: the file is empty."),
        ],
    )
    def test_a_fault_is_told_with_its_line(self, run: Run, path: Path, typed: str, fault: str) -> None:
        result = run("import", "-", typed=typed)
        assert (result.exit_code, result.stderr.startswith(fault), path.exists()) == (1, True, False)
