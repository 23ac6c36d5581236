"""What DEVELOPERS.md says of the program is so."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from tests.conftest import LONDON
from tracker.analysis.findings import find
from tracker.analysis.findings_json import as_json
from tracker.demo import fill
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.own_changes import DatedChange
from tracker.record.csv_days import days_as_csv
from tracker.record.store import Record

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
COUNTED_BY = {"counts", "smallest_effect"}
"""Fields whose names inside are levels or lags."""


def section(heading: str) -> str:
    return TEXT.split(f"\n## {heading}\n")[1].split("\n## ")[0]


def names(value: Any) -> Iterator[str]:
    """Every name in an object and in what it holds."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield name
            if name not in COUNTED_BY:
                yield from names(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from names(inner)


def test_the_fields_of_the_findings_are_those_that_are_described(tmp_path: Path) -> None:
    with Record.open(tmp_path / "record.sqlite", Clock(zone=LONDON)) as record:
        fill(record, date(2026, 3, 15))
        choices = record.choices()._replace(dated_changes=(DatedChange(date(2025, 6, 1), "new post"),))
        found = find(record.days().values(), choices, as_of=date(2026, 3, 15), clock=record.clock)
    rows = re.findall(r"^\|[^|]*\|([^|]*)\|([^|]*)\|$", section("What other programs may rely on"), re.M)
    described = {name for fields, _ in rows for name in re.findall(r"`(\w+)`", fields)}
    inner = {name for _, text in rows for name in re.findall(r"`([a-z_]+)`", text)}
    written = set(names(as_json(found)))
    assert written <= described | inner
    assert described <= written


def test_the_header_of_days_is_the_one_described() -> None:
    header = days_as_csv([], Choices()).strip()
    assert f"`{header}`" in section("What other programs may rely on")


def test_every_folder_that_is_described_is_there() -> None:
    folders = re.findall(r"^\| `([\w./]+)` \|", section("The way of the data"), re.M)
    assert len(folders) >= 8
    assert [name for name in folders if not (ROOT / name).exists()] == []
    inside = {path.name for path in (ROOT / "tracker").iterdir() if (path / "__init__.py").exists()}
    assert inside <= {Path(name).name for name in folders}


def test_every_module_that_is_named_is_there() -> None:
    named = set(re.findall(r"`((?:\w+/)+[a-z_]+\.py)`", TEXT))
    assert named
    assert [
        name for name in named if not any((ROOT / part / name).exists() for part in ("", "tracker"))
    ] == []


def test_no_module_name_stands_twice() -> None:
    names = [path.name for path in (ROOT / "tracker").rglob("*.py") if path.name != "__init__.py"]
    assert sorted({name for name in names if names.count(name) > 1}) == []
