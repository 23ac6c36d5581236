"""A small record with something of everything."""

from datetime import date, timedelta

from tracker.diary.breaks import Break
from tracker.diary.days import Change
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import mood_scale
from tracker.diary.settings import Settings
from tracker.record import snapshots
from tracker.record.choice_rows import break_value, kind_value, scale_value
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
YESTERDAY = TODAY - timedelta(1)


def fill(record: Record) -> None:
    """Days, choices, an undo and a redo."""
    record.keep([Change(YESTERDAY, "mood", "mood5-4")], "mood")
    record.keep([Change(YESTERDAY, "mood", "mood5-2")], "mood")
    record.undo()
    record.keep([Change(TODAY, "sleep", "sleep8-5", detail={"hours": 6.5})], "sleep")
    record.keep(
        [Change(TODAY, "note", 'Sunrise over the Selderby Halt box: \u2600, "tea"\nand cake')], "note"
    )
    record.keep([Change(TODAY, "mood", state="could not say")], "mood")
    record.keep([Change(date(2025, 1, 3), "mood", "mood5-3")], "paper", "imported", "paper")
    record.keep([Change(TODAY, "shift", "night")], "shift")
    record.keep_settings(Settings(country="Scotland", latitude=56))
    record.choose(scale_value(mood_scale(["bad", "so-so", "fine"], date(2026, 4, 1))), "levels")
    record.choose(kind_value(ShiftKind("relief", "r", "relief turn")), "kind")
    record.choose(break_value(Break(date(2025, 6, 1), date(2025, 6, 30))), "break")
    record.undo()
    record.redo()


def copy_of(record: Record) -> Record:
    """The record as it stands, in memory; to be closed."""
    return snapshots.in_memory(record)
