"""Nothing kept is ever written over: rows are added, and only `erase` takes any away."""

import re
from datetime import date
from pathlib import Path

import pytest

import tracker.record
from tracker.diary.days import Change
from tracker.record.store import Record

FOLDER = Path(tracker.record.__path__[0])
ALLOWED = {"erase.py", "draft_rows.py", "driver.py"}
"""The file that may take rows of what was kept away, that of drafts, which never were, and the one that lets
a copy take the place of a whole record."""
CHANGING = re.compile(
    r"\b(?:update\s+(?!set)\w+\s+set|do\s+update|delete\s+from|insert\s+or\s+replace|drop\s+table)"
    r"\s+(?!temp)([\w.{}]+)",
    re.I,
)


@pytest.mark.parametrize("module", sorted(FOLDER.glob("*.py")), ids=lambda path: path.name)
def test_no_statement_changes_or_takes_away_a_row(module: Path) -> None:
    assert not CHANGING.search(module.read_text()) or module.name in ALLOWED


def test_drafts_are_all_that_is_written_over() -> None:
    found = CHANGING.findall((FOLDER / "draft_rows.py").read_text())
    assert set(found) == {"draft", "main.draft", "set"}


def test_keeping_undoing_and_choosing_only_add_rows(record: Record) -> None:
    seen: list[str] = []
    record.db.trace(seen.append)
    day = date(2026, 3, 17)
    record.keep([Change(day, "mood", "mood5-4")], "mood")
    record.keep([Change(day, "mood", state="cleared")], "cleared")
    record.choose({"setting.theme": "x"}, "theme")
    record.undo()
    record.redo()
    verbs = {statement.split()[0].lower() for statement in seen}
    assert verbs == {"begin", "commit", "select", "insert"}
