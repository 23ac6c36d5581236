"""Joining two copies of a record: the union of their rows, whichever way round and however often.

Nothing is weighed: the newest row counts on both sides alike. What was erased on either side stays erased.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from tracker.diary.days import Change
from tracker.diary.errors import DamagedRecord
from tracker.record import erase
from tracker.record.batch_writer import TableRow, entry_from
from tracker.record.row_checks import Rows, all_rows, named
from tracker.record.store import Record


class Conflict(NamedTuple):
    """A square that was kept differently on both sides since they parted."""

    mine: Change
    theirs: Change
    shows: Change
    """The newer of the two."""


class MergeResult(NamedTuple):
    """What a joining brought."""

    entries: int
    """Entries that were not here before."""
    choices: int
    """Choices that were not here before."""
    erased: int
    """Erased spans that were not known here."""
    gone: int
    """Entries of this side that were erased on the other."""
    stay_out: int
    """Entries of the other side that lie in days erased on either."""
    conflicts: list[Conflict]

    @property
    def brings_something(self) -> bool:
        """Whether the record is another one afterwards."""
        return bool(self.entries or self.choices or self.erased)


def join(record: Record, theirs: Rows, dry: bool = False) -> MergeResult:
    """Add the rows of another copy; with `dry`, only say what that would bring.

    Raises DamagedRecord when one row is not the same in both: then one copy was altered.
    """
    mine = all_rows(record)
    new = _new_rows(mine, theirs)
    left = erase.left_over([*mine["entry"], *new["entry"]], [*mine["erased"], *new["erased"]])
    came = len(new["entry"])
    new["entry"] = [row for row in new["entry"] if row[0] in left]
    gone = [row for row in mine["entry"] if row[0] not in left]
    used = {named(table, row)["batch"] for table in ("entry", "choice") for row in new[table]}
    new["batch"] = [row for row in new["batch"] if row[0] in used]
    stay_out = came - len(new["entry"])
    conflicts = _conflicts(mine, theirs, new)
    joined = MergeResult(
        len(new["entry"]), len(new["choice"]), len(new["erased"]), len(gone), stay_out, conflicts
    )
    if joined.brings_something and not dry:
        _write(record, new, bool(gone))
    return joined


def _write(record: Record, new: Rows, gone: bool) -> None:
    with record.writing() as write:
        for table in ("batch", "entry", "choice", "erased"):
            for row in new[table]:
                write.copied(table, row)
        if gone:
            erase.take_covered_away(record)
    record.invalidate()
    if gone:
        erase.compact(record)


def _new_rows(mine: Rows, theirs: Rows) -> Rows:
    """Their rows that are not among mine."""
    found: Rows = {}
    for table, listed in theirs.items():
        here = {row[0]: row for row in mine[table]}
        for row in listed:
            if row[0] in here and here[row[0]] != row:
                raise DamagedRecord(
                    "A row is not the same in both copies, so one was altered; nothing was joined. "
                    "Run tracker check on each of them."
                )
        found[table] = [row for row in listed if row[0] not in here]
    return found


def _conflicts(mine: Rows, theirs: Rows, new: Rows) -> list[Conflict]:
    here, there = _newest(mine["entry"]), _newest(theirs["entry"])
    new_ids = {row[0] for row in new["entry"]}
    their_ids = {row[0] for row in theirs["entry"]}
    found = []
    for place, row in sorted(there.items()):
        other = here.get(place)
        if other is None or row[0] not in new_ids or other[0] in their_ids:
            continue
        a, b = _change(other), _change(row)
        if (a.state, a.value, a.detail) != (b.state, b.value, b.detail):
            found.append(Conflict(a, b, _change(max(other, row, key=_age))))
    return found


def _newest(entries: Iterable[TableRow]) -> dict[tuple[str, str], TableRow]:
    """The row that counts for each day and field."""
    return {(row[1], row[2]): row for row in sorted(entries, key=_age)}


def _age(row: TableRow) -> tuple[Any, ...]:
    entry = named("entry", row)
    return entry["turn"], entry["recorded_at"], entry["id"]


def _change(row: TableRow) -> Change:
    return entry_from(row[:-1]).change
