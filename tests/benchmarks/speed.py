"""How long things take, and what memory, as ratios against stated baselines measured by turns in one run.

    python -m tests.benchmarks.speed [--runs N] [--only NAME]

Prints one table; nothing passes or fails.
"""

from __future__ import annotations

import argparse
import itertools
import os
import sqlite3
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date, timedelta
from functools import partial
from pathlib import Path

from tests.benchmarks.many_years import YEAR
from tests.benchmarks.races import HEAD, MANY, Measure, Race, Result, code, cpu, here, memory, process, run
from tests.benchmarks.rates import table
from tests.benchmarks.terminal import first_paint, key_press, peak_memory
from tracker.commands.main import ONE_THREAD
from tracker.commands.show_command import sheet_of
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.scales import DEFAULT_MOOD
from tracker.grids.palette import Palette
from tracker.grids.themes import load_theme
from tracker.grids.year import YearView, draw_year
from tracker.record.csv_days import DaysReader, HowToRead, days_as_csv, plan, read_days, text_of
from tracker.record.store import Record

PYTHON = sys.executable
SCRIPT = (PYTHON, "-c", "import sys; from tracker.commands.main import main; sys.exit(main())")
"""What the installed script does."""
BARE_APP = (PYTHON, "-m", "tests.benchmarks.bare_app")
BARE_PAINTED, MONTH_PAINTED = "one line", "? help"
"""What stands in the last row of the first frame."""
GROWTH = (10, 100)
MEASURES = ((process, ""), (cpu, ", CPU"))
"""How whole processes are measured, with what is said of it."""


class Files:
    """Records and files of many years, made when they are first wanted, under one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.last = Clock().today() - timedelta(days=1)
        self._copies = itertools.count()

    def record(self, years: int) -> Path:
        """A record of so many years, that ended yesterday."""
        path = self.folder / f"{years}.sqlite"
        if not path.exists():
            # in a process of its own, so that this one stays small
            process(PYTHON, "-m", "tests.benchmarks.many_years", str(path), str(years))()
        return path

    def copy(self, years: int) -> Path:
        """Such a record of its own, to write to."""
        path = self.new("sqlite")
        path.write_bytes(self.record(years).read_bytes())
        return path

    def new(self, ending: str) -> Path:
        """A name that was not used yet."""
        return self.folder / f"new-{next(self._copies)}.{ending}"

    def table(self, years: int) -> Path:
        """The days of such a record as CSV."""
        path = self.folder / f"{years}.csv"
        if not path.exists():
            with Record.open(self.record(years)) as record:
                path.write_text(days_as_csv(record.days().values(), record.choices()), newline="")
        return path


def command(record: Path, *words: str) -> tuple[str, ...]:
    """A call of our program on a record."""
    return (*SCRIPT, "--record", str(record), *words)


def tracker(record: Path, *words: str) -> Measure:
    """Seconds of a whole call."""
    return process(*command(record, *words))


# --- what is measured -----------------------------------------------------------------------------


def memory_race(files: Files) -> Iterator[Race]:
    """Peak memory; first of all, while this process is small itself."""
    record = files.record(10)
    yield Race(
        "a bare app of one line",
        peak_memory(BARE_APP, BARE_PAINTED),
        {"memory of the app, 10 years": peak_memory(command(record), MONTH_PAINTED)},
    )
    yield Race(
        "import scipy.special",
        memory(PYTHON, "-c", "import scipy.special"),
        {"memory of tracker findings, 10 years": memory(*command(record, "findings"))},
    )


def opening(files: Files) -> Iterator[Race]:
    """Start to first paint of the filled month."""
    for columns, rows in ((80, 24), (120, 40)):
        yield Race(
            "a bare app of one line",
            first_paint(BARE_APP, BARE_PAINTED, columns, rows),
            {
                f"first paint, 10 years, {columns}x{rows}": first_paint(
                    SCRIPT, MONTH_PAINTED, columns, rows, files.record(10)
                )
            },
            "1.05",
        )
    yield grown(files, "first paint", lambda record: first_paint(SCRIPT, MONTH_PAINTED, record=record), "1")


def key(files: Files) -> Iterator[Race]:
    """A key, from its press until its entry is durable and drawn."""
    bare = (PYTHON, "-m", "tests.benchmarks.bare_keep", str(files.new("sqlite")))
    digits = ("3", "4") * 6
    yield Race(
        "a bare app: one insert, one line",
        key_press(bare, BARE_PAINTED, digits),
        {
            f"a key kept and drawn, {in_years(years)}": key_press(
                command(files.copy(years)), MONTH_PAINTED, digits, before=("left",)
            )
            for years in (1, 10, 100)
        },
        "1.5",
    )


def put(files: Files) -> Iterator[Race]:
    """`tracker put`, which keeps another level each time."""
    record, levels = files.copy(10), itertools.cycle("345")

    def another_mood(measure: Callable[..., Measure]) -> float:
        return measure(*command(record, "put", "today", "--mood", next(levels)))()

    for measure, of in MEASURES:
        yield Race(
            f"import sqlite3, click{of}",
            measure(PYTHON, "-c", "import sqlite3, click"),
            {f"tracker put today --mood 4, 10 years{of}": partial(another_mood, measure)},
            "1.5",
        )


def year(files: Files) -> Iterator[Race]:
    """The year grid, read and drawn in this process; and as a command on ever more years."""
    record = Record.open(files.record(60))
    second = (files.last - 60 * YEAR).year + 1
    yield Race(
        "the second year of 60, read and drawn",
        here(lambda: draw_a_year(record, second)),
        {"the 60th year of 60, read and drawn": here(lambda: draw_a_year(record, second + 58))},
        "1",
    )
    yield grown(files, "show --year", lambda path: tracker(path, "show", "--year", str(files.last.year)), "1")


def draw_a_year(record: Record, year: int) -> None:
    """Read a year and draw both grids, several times over."""
    palette = Palette(load_theme("wenfold-dusk"), "truecolor", "digits", True)
    for _ in range(10):
        grid_data = sheet_of(record, date(year, 1, 1), date(year, 12, 31))
        draw_year(grid_data, palette, YearView(year, "one grid"), 160, 40)


def findings(files: Files) -> Iterator[Race]:
    """The findings as a command."""
    for measure, of in MEASURES:
        yield Race(
            f"import scipy.special{of}",
            measure(PYTHON, "-c", "import scipy.special"),
            {f"tracker findings, 10 years{of}": measure(*command(files.record(10), "findings"))},
            "1.8",
        )
    yield grown(files, "tracker findings", lambda path: tracker(path, "findings"), most=2)


def finding(files: Files) -> Iterator[Race]:
    """The findings in this process, from days that are read already."""
    years = (1, 3, 10, 30)
    yield Race(
        "15 scipy.stats.spearmanr of the same 10 years",
        plain_tests(files.record(10)),
        {"find() on 10 years": all_findings(files.record(10))},
    )
    measures = {number: all_findings(files.record(number)) for number in years}
    yield against_the_first("find()", measures)


def all_findings(path: Path) -> Measure:
    """Seconds of making all findings."""
    from tracker.analysis.findings import find

    with Record.open(path) as record:
        days, choices, clock, today = record.days().values(), record.choices(), record.clock, record.today()
    return here(lambda: find(days, choices, as_of=today, clock=clock))


def plain_tests(path: Path) -> Measure:
    """Seconds of Spearman's test at each of 15 lags."""
    from scipy.stats import spearmanr

    from tracker.analysis.lags import LAGS, pairs_at
    from tracker.analysis.reading import read

    with Record.open(path) as record:
        series = read(record.days().values(), record.choices(), record.today(), record.clock).series
    return here(lambda: [spearmanr(*pairs_at(series.sleep, series.mood, int(lag))) for lag in LAGS])


def page(files: Files) -> Iterator[Race]:
    """The page for the GP, as a file and as text."""
    record, written = files.record(10), files.new("pdf")
    to_pdf = {"page as PDF, 10 years": tracker(record, "summary", str(written), "--force")}
    yield Race("import typst", code("import typst"), to_pdf)
    yield Race("typst.compile of one line", code("import typst; typst.compile(b'One line.')"), to_pdf)
    yield Race("bare python", code("pass"), {"page as text, 10 years": tracker(record, "summary", "-")})
    yield grown(files, "page as text", lambda path: tracker(path, "summary", "-"), most=2)


def importing(files: Files) -> Iterator[Race]:
    """Days from CSV, kept as one action in an empty record."""
    yield Race(
        "executemany of the same rows, one transaction",
        bare_rows(files),
        {"import of CSV, 10 years": import_of(files, 10)},
    )
    measures = {years: import_of(files, years) for years in (1, *GROWTH)}
    yield against_the_first("import of CSV", measures, most=3)


def import_of(files: Files, years: int) -> Measure:
    """Seconds of reading, planning and keeping a file of days."""
    path, empty = files.table(years), EmptyRecord(files)
    return here(lambda: import_days(empty.record, path), empty.renew)


def import_days(record: Record, path: Path) -> None:
    """What the command does without a question."""
    reader = DaysReader(record.choices(), record.clock, HowToRead(), record.days())
    planned = plan(read_days(text_of(path), path, reader), record.days())
    record.keep(planned.new, path.name, "imported", "at the time")


class EmptyRecord:
    """A record that is a new one for every measurement."""

    def __init__(self, files: Files) -> None:
        self.files = files
        self.renew()

    def renew(self) -> None:
        """Begin with an empty one."""
        self.record = Record.open(self.files.new("sqlite"))


def bare_rows(files: Files) -> Measure:
    """Seconds of inserting what an import of ten years inserts."""
    source, empty = EmptyRecord(files), EmptyRecord(files)
    import_days(source.record, files.table(10))
    db = source.record.db
    rows = {name: [*map(tuple, db.rows(f"select * from {name}"))] for name in ("batch", "entry")}

    def insert() -> None:
        db = sqlite3.connect(empty.record.path, isolation_level=None)
        db.execute("pragma synchronous = full")
        db.execute("begin immediate")
        for name, listed in rows.items():
            db.executemany(f"insert into {name} values ({', '.join('?' * len(listed[0]))})", listed)
        db.execute("commit")
        db.close()

    return here(insert, empty.renew)


def undo(files: Files) -> Iterator[Race]:
    """Taking back what was just kept."""
    yield against_the_first("undo", {years: undo_in(files.copy(years)) for years in (1, *GROWTH)}, "1")


def undo_in(path: Path) -> Measure:
    """Seconds of one undo."""
    record = Record.open(path)
    levels = itertools.cycle(level.id for level in DEFAULT_MOOD.levels)
    return here(record.undo, lambda: record.keep([Change(record.today(), "mood", next(levels))], "mood"))


def grown(
    files: Files, name: str, measure: Callable[[Path], Measure], goal: str = "", most: int = MANY
) -> Race:
    """The same thing on a record of one year, and of more."""
    measures = {years: measure(files.record(years)) for years in (1, *GROWTH)}
    return against_the_first(name, measures, goal, most)


def against_the_first(name: str, measures: Mapping[int, Measure], goal: str = "", most: int = MANY) -> Race:
    """Measures by their years, the first of them the baseline."""
    (first, baseline), *others = measures.items()
    return Race(
        f"{name}, {in_years(first)}",
        baseline,
        {f"{name}, {in_years(years)}": measure for years, measure in others},
        goal,
        most,
    )


def in_years(years: int) -> str:
    """A number of years in words."""
    return f"{years} year{'s' if years > 1 else ''}"


RACES: Mapping[str, Callable[[Files], Iterator[Race]]] = {
    "memory": memory_race,
    "opening": opening,
    "key": key,
    "put": put,
    "year": year,
    "findings": findings,
    "page": page,
    "undo": undo,
    "import": importing,
    "find": finding,
}
"""By name; memory first, while this process is small, and what imports numpy into it last."""


def be_as_installed(folder: str) -> None:
    """Keep compiled modules, as an installed program has them, and let this process reckon as ours does."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = folder
    os.environ.setdefault(*ONE_THREAD)


def results(names: Iterable[str], rounds: int) -> Iterator[Result]:
    """Measure one after another, and say on stderr what is measured."""
    with tempfile.TemporaryDirectory() as folder:
        be_as_installed(folder)
        files = Files(Path(folder))
        for name in names:
            for race in RACES[name](files):
                print(", ".join(race.entrants), file=sys.stderr)
                yield from run(race, rounds)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description="Ratios of time and memory against stated baselines.")
    parser.add_argument("--runs", type=int, default=11, help="rounds of each comparison (default 11)")
    parser.add_argument("--only", choices=RACES, action="append", help="one of the comparisons; repeatable")
    options = parser.parse_args()
    rows = [result.cells for result in results(options.only or RACES, options.runs)]
    print(table(HEAD, rows))


if __name__ == "__main__":
    main()
