"""Whatever `tracker check` finds wrong with a record, `tracker restore` mends from a whole copy."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tests.record.sample import fill
from tracker.record.json_export import record_as_json
from tracker.record.store import Record

Kept = Callable[[], Record]


@pytest.fixture
def copy(run: Run, kept: Kept, tmp_path: Path) -> Path:
    """A whole copy of a filled record."""
    with kept() as record:
        fill(record)
    copy = tmp_path / "elsewhere" / "copy.sqlite"
    copy.parent.mkdir()
    run("backup", str(copy))
    return copy


def flipped(content: bytes, place: int, bit: int = 0) -> bytes:
    return content[:place] + bytes([content[place] ^ (1 << bit)]) + content[place + 1 :]


def is_mended(run: Run, path: Path, copy: Path, damaged: bytes) -> bool:
    """Whether a restore leaves what the copy holds; only what `check` reports need be mended."""
    path.write_bytes(damaged)
    found = run("check").exit_code
    if not found:
        return True
    restored = run("restore", str(copy), "--yes")
    with Record.open(path) as record, Record.open(copy) as whole:
        same = record_as_json(record) == record_as_json(whole)
    return restored.exit_code == 0 and same and run("check").exit_code == 0


PLACES = {
    "the name of the format": 3,
    "how it is written": 18,
    "the size of its pages": 16,
    "the version of the tables": 63,
    "a version far ahead": 60,
    "whose file it is": 70,
}


@pytest.mark.parametrize("place", PLACES.values(), ids=PLACES)
def test_a_flipped_bit_of_the_header_is_mended(run: Run, path: Path, copy: Path, place: int) -> None:
    assert is_mended(run, path, copy, flipped(path.read_bytes(), place))


@pytest.mark.parametrize(
    "text",
    [
        b"create view current_entry",
        b"CREATE TABLE entry",
        b"CREATE INDEX entry_by_day",
        b"mood5-4",
        b"Sunrise",
        b'{"from":"2025-06-01"',
        b'{"hours":6.5}',
    ],
)
def test_flipped_bits_of_tables_and_rows_are_mended(run: Run, path: Path, copy: Path, text: bytes) -> None:
    content = path.read_bytes()
    begin = content.lower().index(text.lower())
    for place in range(begin, begin + len(text), 5):
        assert is_mended(run, path, copy, flipped(content, place)), place


def test_any_flipped_bit_is_mended(run: Run, path: Path, copy: Path) -> None:
    content, dice = path.read_bytes(), random.Random(1852)  # noqa: S311
    for _ in range(40):
        place, bit = dice.randrange(len(content)), dice.randrange(8)
        assert is_mended(run, path, copy, flipped(content, place, bit)), (place, bit)


def test_what_lay_there_is_laid_aside_and_never_taken_away(run: Run, path: Path, copy: Path) -> None:
    damaged = flipped(path.read_bytes(), 70)
    path.write_bytes(damaged)
    run("restore", str(copy), "--yes")
    (aside,) = path.parent.glob("record-damaged-*.sqlite")
    assert aside.read_bytes() == damaged


@pytest.mark.parametrize(
    "command", [["put", "--mood", "4"], ["undo"], ["show"], ["check"], ["merge"], ["export"]]
)
@pytest.mark.parametrize("place", [60, 70])
def test_no_other_command_touches_such_a_file(
    run: Run, path: Path, copy: Path, place: int, command: list[str], tmp_path: Path
) -> None:
    path.write_bytes(flipped(path.read_bytes(), place))
    before = path.read_bytes()
    files = {"merge": [str(copy)], "export": [str(tmp_path / "days.csv")]}.get(command[0], [])
    assert run(*command, *files).exit_code == 1
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "command", [["show"], ["put", "--mood", "4"], ["history", "today"], ["export", "x.json"]]
)
def test_a_setting_that_cannot_be_read_is_damage_and_no_mistake_of_the_program(
    run: Run, path: Path, copy: Path, command: list[str]
) -> None:
    content = path.read_bytes()
    path.write_bytes(flipped(content, content.index(b'{"from":"2025-06-01"') + 1))
    result = run(*command)
    assert result.exit_code == 1
    assert "run tracker check" in result.stderr
    assert "made a mistake" not in result.stderr
