"""Days as CSV (RFC 4180), there and back. It holds the days as they stand; JSON holds the whole record."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType
from typing import Literal, NamedTuple

from tracker import system, words
from tracker.diary.answers import (
    anxious_answer,
    exact_sleep,
    mood_answer,
    scale_span,
    shift_answer,
    sleep_answer,
)
from tracker.diary.changes import anxious_change, changes_something, check, differs_in_basis, note_change
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.dates import within_reach
from tracker.diary.days import Basis, Change, Day, Square, kept_values
from tracker.diary.errors import BrokenFile, Fault, TrackerError, UnknownValue
from tracker.diary.scales import COULD_NOT_SAY, Grid, Scale

COLUMNS = ("date", "mood", "sleep", "hours", "anxious", "shift", "note")
GUARDED = ("=", "+", "-", "@", "\t", "\r", "'")
"""First letters that a spreadsheet might take for a formula, and the guard itself."""
SEPARATORS = (",", ";", "\t")
"""What may stand between two cells; semicolons where a comma is the decimal sign."""
LONGEST_HEADING = 10_000
"""Characters within which the heading ends, if a file is one of days at all."""
Order = Literal["YMD", "DMY", "MDY"]
ORDERS: dict[Order, str] = {"YMD": "2026-03-17", "DMY": "17/03/2026", "MDY": "03/17/2026"}
"""Orders of the parts of a date, each with the same day as an example."""
_ANY_FORM = r"(\d{1,4})[-./ ](\d{1,2})[-./ ](\d{1,4})"
_SHORT_YEAR = re.compile(r"\d{1,2}[-./ ]\d{1,2}[-./ ]\d{2}")
_FORMS: dict[Order, str] = {"YMD": r"(\d{4})-(\d{2})-(\d{2})", "DMY": _ANY_FORM, "MDY": _ANY_FORM}
Watched = Callable[[list["CsvRow"]], Iterable["CsvRow"]]

GUIDE = """\
What the columns of {name} hold. One row a day, UTF-8, comma-separated (RFC 4180).

date     the day, as 2026-03-17. A day begins at {hour:02}:00 local time.
mood     how the day was, taken as a whole: the level's number, 1 the lowest; ? for
         'could not say'; empty where nothing was kept. The levels have an order, but
         no distances.
{moods}
sleep    hours the person thinks she slept, as a bucket: all sleep since the last getting
         up, until she got up on that day. Lower bound in, upper bound out.
{buckets}
hours    the exact number of hours, where one was kept.
anxious  yes, no, or empty for not noted.
shift    code of the shift that starts on the day:
{kinds}
note     the person's own words; empty unless they were asked for.

A cell that begins with one of = + - @ ' or a tab has one ' before it, so that a
spreadsheet does not take it for a formula. Nothing is filled in: what is missing is empty.
One person's own notes, not measured. {caution}
"""


class HowToRead(NamedTuple):
    """How a file of days is to be read."""

    columns: Mapping[str, str] = MappingProxyType({})
    """Our names of columns, each with the name that the file uses."""
    ignore_others: bool = False
    """Whether columns that mean nothing to us are passed over."""
    dates: Order = "YMD"
    under_going_to_bed: bool = False
    """Whether a sleep stands under the date on which it began; then it is moved to the next day."""
    not_anxious: bool = False
    """Whether a mood without the anxious mark means a day without it."""

    def theirs(self, column: str) -> str:
        """What the file calls a column of ours."""
        return self.columns.get(column, column)


class CsvRow(NamedTuple):
    """One row of a file: where it begins, and its cells by our names of the columns."""

    line: int
    cells: dict[str, str]


class ImportPlan(NamedTuple):
    """What an import would do to the days that stand."""

    new: list[Change]
    """Changes of squares that hold nothing."""
    differing: list[tuple[Change, Square]]
    """Changes of squares that hold something else, and what they hold."""
    rebased: list[Change]
    """Changes of squares that hold the same, which would rest on something else."""
    same: int
    """Squares that stand already as the file has them."""


# --- writing --------------------------------------------------------------------------------------


def days_as_csv(days: Iterable[Day], choices: Choices, notes: bool = False) -> str:
    """The days that hold something as CSV; notes only where they are asked for."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for day in days:
        cells = _cells(day, choices, notes)
        if any(cells):
            writer.writerow([day.date.isoformat(), *(guarded(cell) for cell in cells)])
    return out.getvalue()


def _cells(day: Day, choices: Choices, notes: bool) -> list[str]:
    kind = choices.kinds_by_id.get(day.shift_kind)
    return [
        _level(day.mood, lambda id: str(choices.scales.level(id).rank)),
        _level(day.sleep, lambda id: choices.scales.level(id).label),
        "" if day.hours is None else _plain(day.hours),
        {None: "", True: "yes", False: "no"}[day.is_anxious],
        kind.code if kind else day.shift_kind,
        day.note_text if notes else "",
    ]


def _level(square: Square | None, named: Callable[[str], str]) -> str:
    if square is None:
        return ""
    return named(square.value) if square.is_kept else COULD_NOT_SAY


def _plain(hours: float) -> str:
    """The shortest decimal that reads as the same number."""
    return str(int(hours)) if hours == int(hours) else f"{Decimal(repr(hours)):f}"


def guarded(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.startswith(GUARDED) else cell


def unguarded(cell: str) -> str:
    """The cell as it was before `guarded`."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(GUARDED) else cell


def level_sets(days: Iterable[Day], choices: Choices, grid: Grid) -> list[Scale]:
    """The versions of levels by which days were kept; a file of days tells them apart by nothing."""
    return list(choices.scales.used(grid, kept_values(days, grid)))


def column_guide(name: str, days: Collection[Day], choices: Choices, caution: str) -> str:
    """What the columns mean, for whoever gets a file of days."""

    def levels_of(grid: Grid) -> str:
        return "\n".join(_levels_listed(level_sets(days, choices, grid) or [choices.scales.newest(grid)]))

    return GUIDE.format(
        name=name,
        hour=choices.settings.day_change_hour,
        moods=levels_of("mood"),
        buckets=levels_of("sleep"),
        kinds="\n".join(f"         {kind.code}: {kind.label}" for kind in choices.kinds),
        caution=caution,
    )


def _levels_listed(scales: Sequence[Scale]) -> Iterator[str]:
    """The levels, a line each, under the days of their version where there are several."""
    for scale in scales:
        if len(scales) > 1:
            yield f"         {scale_span(scale)}:"
        for level in scale.levels:
            yield (
                f"         {level.rank}: {level.label}" if scale.grid == "mood" else f"         {level.label}"
            )


# --- reading --------------------------------------------------------------------------------------


def text_of(path: Path) -> str:
    """The text of a file.

    Raises TrackerError for a file that cannot be read, and as `decoded` does.
    """
    try:
        return decoded(system.read_file(path), path)
    except OSError as error:
        raise TrackerError(f"{path} cannot be read: {system.reason(error)}.") from error


def decoded(data: bytes, path: Path) -> str:
    """The text that bytes hold, with or without a byte order mark.

    Raises BrokenFile for anything but UTF-8.
    """
    try:
        text = data.decode("utf-8-sig")
        place = data.find(b"\0")
    except UnicodeDecodeError as error:
        place = error.start
    if place < 0:
        return text
    fault = Fault(data.count(b"\n", 0, place) + 1, "", "this is no UTF-8 text.")
    raise BrokenFile(path, [fault], "Nothing was kept; save the file as UTF-8 and import it again.")


def rows_of(text: str, file: Path | str, how: HowToRead) -> tuple[list[CsvRow], list[Fault]]:
    """The rows of a file, with their cells under our names, and the faults of those that are no rows.

    Raises BrokenFile for a heading that cannot be followed.
    """
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=separator_of(text, how), strict=True)
    listed: list[tuple[int, list[str]]] = []
    faults: list[Fault] = []
    begin = 1
    try:
        for cells in lines:
            if cells:
                listed.append((begin, cells))
            begin = lines.line_num + 1
    except csv.Error as error:
        faults.append(Fault(begin, "", f"this row cannot be read ({error})."))
    if not listed:
        raise BrokenFile(file, faults or [Fault(1, "", "the file is empty.")])
    names = _heading(listed[0][1], file, how)
    rows = []
    for line, cells in listed[1:]:
        if len(cells) == len(names):
            rows.append(
                CsvRow(line, {name: unguarded(cell) for name, cell in zip(names, cells, strict=True)})
            )
        else:
            faults.append(Fault(line, "", f"{len(cells)} cells, but the heading has {len(names)}."))
    return rows, faults


def _heading(cells: list[str], file: Path | str, how: HowToRead) -> list[str]:
    """Our name of each column; for those that are passed over, a name that means nothing."""
    ours = {how.theirs(column).casefold(): column for column in COLUMNS}
    names = [ours.get(cell.strip().casefold(), "") for cell in cells]
    faults = [
        Fault(1, cell, "this column is not known; --ignore-columns passes over it, --column names it.")
        for cell, name in zip(cells, names, strict=True)
        if not name and not how.ignore_others
    ]
    faults += [
        Fault(1, how.theirs(name), "this column stands twice.") for name in COLUMNS if names.count(name) > 1
    ]
    if "date" not in names:
        faults.append(Fault(1, how.theirs("date"), "there is no such column."))
    missing = [theirs for ours, theirs in how.columns.items() if ours not in names]
    faults += [Fault(1, name, "there is no such column.") for name in missing if name != how.theirs("date")]
    if faults:
        raise BrokenFile(file, faults)
    return names


def has_columns_of_others(text: str, how: HowToRead) -> bool:
    """Whether a file has columns that we would not write: then its dates may follow another rule."""
    return bool(how.columns) or any(name not in COLUMNS for name in _names_of(text, separator_of(text, how)))


def has_sleep(text: str, how: HowToRead) -> bool:
    """Whether a file has a column of sleep."""
    wanted = {how.theirs("sleep").casefold(), how.theirs("hours").casefold()}
    return not wanted.isdisjoint(_names_of(text, separator_of(text, how)))


def separator_of(text: str, how: HowToRead) -> str:
    """What parts the cells: the sign that finds most known names in the heading, or else most names."""
    known = {how.theirs(column).casefold() for column in COLUMNS}

    def fits(separator: str) -> tuple[int, int]:
        names = _names_of(text, separator)
        return sum(name in known for name in names), len(names)

    return max(SEPARATORS, key=fits)


def _names_of(text: str, separator: str) -> list[str]:
    """The names of the heading as they are compared."""
    rows = csv.reader(io.StringIO(text[:LONGEST_HEADING], newline=""), delimiter=separator)
    return [cell.strip().casefold() for cell in next(filter(None, rows), [])]


class DaysReader:
    """Turns rows into changes and collects every fault on the way."""

    def __init__(
        self, choices: Choices, clock: Clock, how: HowToRead, standing: Mapping[date, Day] | None = None
    ) -> None:
        self.choices = choices
        self.clock = clock
        self.standing = standing or {}
        self.how = how
        self.faults: list[Fault] = []
        self._last_open = clock.last_open_day(choices.settings.day_change_hour)
        self._lines: dict[date, int] = {}
        self._undated: list[tuple[CsvRow, UnknownValue]] = []

    def changes(self, row: CsvRow) -> list[Change]:
        """The changes of one row; those that are wrong are left out and noted as faults."""
        day = self._day(row)
        return [] if day is None else list(self._checked(row, day))

    def _day(self, row: CsvRow) -> date | None:
        try:
            day = read_date(row.cells["date"], self.how.dates)
        except UnknownValue as error:
            self._undated.append((row, error))
            return None
        except TrackerError as error:
            self._fault(row, "date", error)
            return None
        if day in self._lines:
            self._fault(row, "date", f"{day} stands already on line {self._lines[day]}.")
            return None
        self._lines[day] = row.line
        return day

    def _checked(self, row: CsvRow, day: date) -> Iterator[Change]:
        for column, read in self._answers(row, day):
            try:
                change = read()
                check(change, self.choices, self._last_open)
            except TrackerError as error:
                self._fault(row, column, error)
            else:
                yield change

    def _answers(self, row: CsvRow, day: date) -> Iterator[tuple[str, Callable[[], Change]]]:
        """A column and how its cell is read, for every cell that says something."""
        cell = {column: text for column, text in row.cells.items() if text.strip()}
        choices = self.choices
        risen = day + timedelta(days=1) if self.how.under_going_to_bed else day
        if "mood" in cell:
            yield "mood", lambda: mood_answer(day, cell["mood"], choices)
        if "hours" in cell:
            yield "hours", lambda: exact_sleep(risen, cell.get("sleep", ""), cell["hours"], choices)
        elif "sleep" in cell:
            yield "sleep", lambda: sleep_answer(risen, cell["sleep"], choices)
        if "anxious" in cell:
            yield "anxious", lambda: anxious_answer(day, cell["anxious"])
        elif self._means_not_anxious(cell, day):
            yield "anxious", lambda: anxious_change(day, False)
        if "shift" in cell:
            yield "shift", lambda: shift_answer(day, cell["shift"], choices, self.clock)
        if "note" in cell:
            yield "note", lambda: note_change(day, cell["note"])

    def _means_not_anxious(self, cell: Mapping[str, str], day: date) -> bool:
        """Whether a mood says so by the person's leave, and no mark stands that says otherwise."""
        if not self.how.not_anxious or cell.get("mood", COULD_NOT_SAY).strip() == COULD_NOT_SAY:
            return False
        return day not in self.standing or self.standing[day].anxious is None

    def all_faults(self) -> list[Fault]:
        """Every fault; dates that all want the same are one, as each line would say it again."""
        if len(self._undated) > 1 and all(_has_short_year(row.cells["date"]) for row, _ in self._undated):
            (row, why), *others = self._undated
            more = f"{str(why).rstrip('.')}; so do those of {words.counted(len(others), 'more line')}."
            return [*self.faults, Fault(row.line, self.how.theirs("date"), more)]
        orders = _orders_of([row.cells["date"] for row, _ in self._undated])
        if not orders or not self._undated:
            undated = [Fault(row.line, self.how.theirs("date"), str(why)) for row, why in self._undated]
            return self.faults + undated
        (row, why), *others = self._undated
        nor = f", nor are those of {words.counted(len(others), 'more line')}" if others else ""
        reads = f"--dates {' or '.join(orders)} reads {'them' if others else 'it'}"
        sentence = f"{str(why).rstrip('.')}{nor}; {reads}."
        return [*self.faults, Fault(row.line, self.how.theirs("date"), sentence)]

    def _fault(self, row: CsvRow, column: str, what: TrackerError | str) -> None:
        self.faults.append(Fault(row.line, self.how.theirs(column), str(what)))


def read_days(
    text: str,
    file: Path | str,
    reader: DaysReader,
    watched: Watched = iter,
) -> list[Change]:
    """The changes that a file of days asks for.

    Raises BrokenFile with every fault and its place; an empty cell asks for nothing.
    """
    rows, faults = rows_of(text, file, reader.how)
    changes = [change for row in watched(rows) for change in reader.changes(row)]
    faults += reader.all_faults()
    if faults:
        raise BrokenFile(file, sorted(faults, key=lambda fault: fault.line))
    return changes


def read_date(text: str, order: Order) -> date:
    """A date in ISO form or, as it can mean one thing only, with points; or with its parts in another order.

    Raises UnknownValue for anything else, WrongDay for one out of reach.
    """
    if _has_short_year(text):
        raise UnknownValue(f"'{text}' needs a year of four digits (like {ORDERS[order]}).")
    written = text.strip().rstrip(".")
    by_points = re.fullmatch(r"(\d{1,2})\.(\d{1,2})\.(\d{4})", written) if order == "YMD" else None
    found = by_points or re.fullmatch(_FORMS[order], written)
    if not found:
        raise UnknownValue(f"'{text}' is no date in the order {order} (like {ORDERS[order]}).")
    part = dict(zip("DMY" if by_points else order, found.groups(), strict=True))
    try:
        if len(part["Y"]) != 4:
            raise ValueError
        day = date(int(part["Y"]), int(part["M"]), int(part["D"]))
    except ValueError:
        raise UnknownValue(f"'{text}' is no date of the calendar in the order {order}.") from None
    return within_reach(day)


def _has_short_year(text: str) -> bool:
    return _SHORT_YEAR.fullmatch(text.strip().rstrip(".")) is not None


def _orders_of(texts: Sequence[str]) -> list[Order]:
    """The orders by which all of some dates can be read."""
    return [order for order in ORDERS if all(_is_date(text, order) for text in texts)]


def _is_date(text: str, order: Order) -> bool:
    try:
        read_date(text, order)
    except TrackerError:
        return False
    return True


def plan(changes: Iterable[Change], standing: Mapping[date, Day], basis: Basis | None = None) -> ImportPlan:
    """What changes that rest on a basis would do to the days that stand; without one, they leave theirs."""
    new: list[Change] = []
    differing: list[tuple[Change, Square]] = []
    rebased: list[Change] = []
    same = 0
    for change in changes:
        day = standing.get(change.day, Day(change.day))
        square = day.square(change.field)
        if square is None:
            new.append(change)
        elif changes_something(change, day) and not _is_the_same_shift(change, square):
            differing.append((change, square))
        elif differs_in_basis(change, square, basis):
            rebased.append(change)
        else:
            same += 1
    return ImportPlan(new, differing, rebased, same)


def _is_the_same_shift(change: Change, square: Square) -> bool:
    """A file names the kind alone: the hours that stand are as good as the usual ones."""
    return change.field == "shift" and square.state == change.state and square.value == change.value
