"""Dated backups beside the record: one a day, each verified, thinned out as they grow old.

Never on the way to the first paint: the app calls `keep_backups` once it has drawn, commands when they end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from datetime import date
from pathlib import Path

from tracker.diary.errors import CannotWrite, DamagedRecord, RecordTrouble, UnwritableRecord
from tracker.record import files
from tracker.record.batch_writer import version_of
from tracker.record.connection import key_of, look_only, write_aside
from tracker.record.store import Record

DAILY, WEEKLY, MONTHLY = 10, 6, 24
"""How many days, weeks and months back a backup is kept for."""


OUTGROWN = 1.1
"""So many times the actions of the first backup, and it is made anew."""


def keep_backups(record: Record) -> Path | None:
    """Make today's backup if there is none yet, and drop those that are no longer needed.

    As long as it is the only one it is made anew when a tenth more was kept than it holds: on the first day a
    whole year of paper may come in, and no backup of yesterday holds any of it.

    Returns the new backup, or None where there was nothing to do, or no room to do it.
    """
    if record.read_only:
        return None
    today = record.clock.local(record.clock.now()).date()
    path = files.backups_folder(record.path) / f"{record.path.stem}-{today.isoformat()}.sqlite"
    there = dated(record.path)
    is_made = path in there.values() and not (len(there) == 1 and _is_outgrown(record, path))
    if record.is_empty() or is_made or (there and _holds_the_same(record, there[max(there)])):
        return None
    files.made_backups_folder(record.path)
    write_copy(record, path)
    for old in unneeded(dated(record.path)):
        if old != path:  # by a clock that is years behind it may be the oldest
            with suppress(OSError):
                old.unlink()
    return path


def _is_outgrown(record: Record, backup: Path) -> bool:
    """Whether a backup lacks much of the record, and holds nothing of one that was lost."""
    number, actions = "select count(*) from batch", "select id from batch union all select id from erased"
    try:
        with look_only(backup, key=key_of(backup)) as db:
            if record.db.value(number) <= OUTGROWN * db.value(number):
                return False
            there, here = (set(map(tuple, each.rows(actions))) for each in (db, record.db))
            return there < here
    except RecordTrouble:
        return True


def _holds_the_same(record: Record, backup: Path) -> bool:
    """Whether nothing was kept since a backup."""
    try:
        with look_only(backup, key=key_of(backup)) as db:
            return version_of(db) == version_of(record.db)
    except RecordTrouble:
        return False


def write_copy(record: Record, path: Path) -> None:
    """Write a verified copy of the record, whole or not at all; one of a locked record is locked as it is.

    Raises CannotWrite or DamagedRecord; then nothing is left at the path.
    """
    from tracker.record.integrity import altered_in_copy  # what most commands never need

    with files.written_whole(path) as aside:
        try:
            write_aside(record.db, aside)
        except UnwritableRecord as error:  # the copy is all that is written
            raise CannotWrite(
                f"{path} cannot be written: its disk is full, or fails. Make room, or name another place."
            ) from error
        faults = altered_in_copy(aside, record.db.key)
        if faults:
            raise DamagedRecord(f"The copy for {path} is not whole, so it was not kept. {faults[0]}")


def dated(record: Path) -> dict[date, Path]:
    """The dated backups of a record, by their day."""
    found = {}
    for path in files.made_backups(record):
        with suppress(ValueError):  # one made before something carries no day alone
            found[date.fromisoformat(path.stem[len(record.stem) + 1 :])] = path
    return found


def unneeded(backups: dict[date, Path]) -> list[Path]:
    """The backups that are no longer needed: neither of the last days, nor the last of a week or month."""
    days = sorted(backups, reverse=True)
    kept = {
        *days[:DAILY],
        *_last_of_each(days, WEEKLY, lambda day: day.isocalendar()[:2]),
        *_last_of_each(days, MONTHLY, lambda day: (day.year, day.month)),
    }
    return [backups[day] for day in days if day not in kept]


def _last_of_each(days: Iterable[date], most: int, span: Callable[[date], tuple[int, int]]) -> list[date]:
    """The newest day of each span of time, for the newest spans; `days` come newest first."""
    last: dict[tuple[int, int], date] = {}
    for day in days:
        last.setdefault(span(day), day)
    return list(last.values())[:most]


def beforehand(record: Record, why: str) -> Path:
    """A copy that is made before something that undo cannot take back."""
    stamp = record.clock.name_stamp()
    folder = files.made_backups_folder(record.path)
    path = files.unused(folder / f"{record.path.stem}-before-{why}-{stamp}.sqlite")
    write_copy(record, path)
    return path
