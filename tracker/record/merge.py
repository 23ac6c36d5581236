"""Merging two copies of a record: the union of their rows, whichever way round and however often.

Nothing is weighed: the newest row counts on both sides alike. What was erased on either side stays erased.
"""

from __future__ import annotations

import json
from datetime import date
from typing import NamedTuple

from tracker.diary.days import Change
from tracker.diary.errors import BrokenFile, DamagedRecord, ForeignRecord
from tracker.record import draft_rows, erase, schema
from tracker.record.batch_writer import Json, entry_from
from tracker.record.driver import Connection, Row
from tracker.record.row_checks import all_faults
from tracker.record.store import Record

ALTERED = (
    "A row is not the same in both copies, so one was altered; nothing was merged. "
    "Run tracker check on each of them."
)
CHECK_IT = "Nothing was merged; run tracker check on that copy."


class Conflict(NamedTuple):
    """A square that was kept differently on both sides since they parted."""

    mine: Change
    theirs: Change
    shows: Change
    """The newer of the two."""


class MergeResult(NamedTuple):
    """What a merge brings."""

    entries: int
    """Entries that were not here before."""
    choices: int
    """Choices that were not here before."""
    names: int
    """Identities of the record that were not known here."""
    settings: dict[str, Json]
    """Choices that would stand otherwise than they do here, by name, with what they would be."""
    erased: int
    """Erased spans that were not known here."""
    gone: int
    """Entries and dated changes of this side that were erased on the other."""
    stay_out: int
    """Entries and dated changes of the other side that lie in days erased on either."""
    conflicts: list[Conflict]
    outlive: list[date]
    """Days that one side erased while the other went on with them: what came later in the order stays."""

    @property
    def brings_something(self) -> bool:
        """Whether the record is another one afterwards."""
        return bool(self.entries or self.choices or self.names or self.erased)


def merge(
    record: Record, copy: Record, dry: bool = False, another: bool = False, checked: bool = False
) -> MergeResult:
    """Add the rows of another copy; with `dry`, only say what that would bring.

    Parameters
    ----------
    another
        Whether the copy may be of another record, which shares nothing with this one.
    checked
        Whether the rows of the copy were checked by a dry run just before.

    Raises
    ------
    ForeignRecord
        For a copy of another record.
    BrokenFile, DamagedRecord
        For rows of the copy that cannot be right, or a row that is not the same in both: then one copy was
        altered.
    """
    if not dry:
        record.prepare()
    db = record.db
    with db.attached(copy.db):
        with db.reading() if dry else record.transaction():
            if not another:
                _refuse_another_record(db, copy)
            if not checked:
                _refuse_damage(db, copy)
            db.execute(f"create temp table gone as {GONE}")
            result = _result(db)
            if result.brings_something and not dry:
                _write(db, bool(result.gone))
        db.execute("drop table temp.gone")
    if result.brings_something and not dry:
        record.invalidate()
        if result.gone:
            erase.compact(record)
    return result


def _refuse_another_record(db: Connection, copy: Record) -> None:
    """Two files are of one record if they share its identity or any action; an empty one joins any."""
    if not db.value("select exists (select 1 from main.batch) and exists (select 1 from theirs.batch)"):
        return
    shared = (
        "select exists (select 1 from theirs.batch join main.batch using (id))"
        " or exists (select 1 from theirs.choice join main.choice using (name, value) where name = ?)"
    )
    if not db.value(shared, (schema.IDENTITY,)):
        raise ForeignRecord(
            f"{copy.path} is of another record: it has no action in common with this one. "
            "Nothing was merged; --another-record merges it all the same."
        )


def _refuse_damage(db: Connection, copy: Record) -> None:
    for table, columns in schema.COLUMNS.items():
        mine, theirs = (", ".join(f"{side}.{column}" for column in columns) for side in "mt")
        db.execute(
            f"create temp table differing_{table} as select t.id, m.id as mine from theirs.{table} t"
            f" left join main.{table} m on m.id = t.id where ({theirs}) is not ({mine})"
        )
    faults = all_faults(db, "theirs", "where id in (select id from temp.differing_{table})")
    if faults:
        raise BrokenFile(copy.path, faults, CHECK_IT)
    if any(db.value(f"select max(mine) from temp.differing_{table}") for table in schema.COLUMNS):
        raise DamagedRecord(ALTERED)
    for table in schema.COLUMNS:
        db.execute(f"drop table temp.differing_{table}")


GONE = f"""
with span as (select * from main.erased union select * from theirs.erased),
    mine as ({erase.OF_DAYS.format("main")}),
    every as (select * from mine union all
        select * from ({erase.OF_DAYS.format("theirs")}) where id not in (select id from mine)),
    covered as (select e.id from span s join every e on {erase.COVERED})
select id from covered union
select id from every where restores is not null
    and (restores in (select id from covered) or restores not in (select id from every))
"""
"""Ids of the rows of both sides that no longer stand; what keeps the moment of another goes with that."""
NEW = "id not in (select id from main.{0})"
STAYS = f"{NEW} and id not in (select id from temp.gone)"
DECIDES = f"name <> '{schema.IDENTITY}'"
CONFLICTS = """
select m.id as mine, t.id as theirs,
    (m.turn, m.recorded_at, m.id) > (t.turn, t.recorded_at, t.id) as mine_shows
from theirs.current_entry t join main.current_entry m on m.day = t.day and m.field = t.field
where t.id not in (select id from main.entry) and m.id not in (select id from theirs.entry)
and t.id not in (select id from temp.gone) and m.id not in (select id from temp.gone)
and (m.state, m.value, coalesce(m.detail, '')) <> (t.state, t.value, coalesce(t.detail, ''))
order by t.day, t.field
"""
SETTINGS = f"""
select t.name, t.value from theirs.current_choice t left join main.current_choice m on m.name = t.name
where t.{DECIDES} and t.value is not m.value
and (m.id is null or (t.turn, t.recorded_at, t.id) > (m.turn, m.recorded_at, m.id))
order by t.name
"""
ERASED_APART = "select exists (select * from main.erased except select * from theirs.erased)" + (
    " or exists (select * from theirs.erased except select * from main.erased)"
)
OUTLIVE = " union ".join(
    f"select e.day from ({erase.OF_DAYS.format(here)}) e"
    f" join {there}.erased s on e.day between s.from_day and s.to_day"
    f" where e.id not in (select id from ({erase.OF_DAYS.format(there)}))"
    f" and s.id not in (select id from {here}.erased)"
    " and e.id not in (select id from temp.gone)"
    for here, there in (("main", "theirs"), ("theirs", "main"))
)


def _result(db: Connection) -> MergeResult:
    def count(rows: str) -> int:
        return int(db.value(f"select count(*) from {rows}"))

    def new(table: str, which: str) -> int:
        return count(f"theirs.{table} where {which.format(table)}")

    entries, choices = new("entry", STAYS), new("choice", f"{STAYS} and {DECIDES}")
    return MergeResult(
        entries,
        choices,
        new("choice", f"{NEW} and not {DECIDES}"),
        {row["name"]: json.loads(row["value"] or "null") for row in db.rows(SETTINGS)},
        new("erased", NEW),
        sum(count(f"main.{table} where id in (select id from temp.gone)") for table in ("entry", "choice")),
        new("entry", NEW) - entries + new("choice", f"{NEW} and {DECIDES}") - choices,
        [_conflict(db, row) for row in db.rows(CONFLICTS)],
        [date.fromisoformat(row["day"]) for row in db.rows(OUTLIVE)] if db.value(ERASED_APART) else [],
    )


def _conflict(db: Connection, row: Row) -> Conflict:
    mine, theirs = (
        entry_from(db.row(f"select * from {place}.entry where id = ?", (row[name],))).change
        for place, name in (("main", "mine"), ("theirs", "theirs"))
    )
    return Conflict(mine, theirs, mine if row["mine_shows"] else theirs)


def _write(db: Connection, some_go: bool) -> None:
    used = (
        f"id in (select batch from theirs.entry where {STAYS.format('entry')})"
        f" or id in (select batch from theirs.choice where {STAYS.format('choice')})"
    )
    rows = {
        "batch": f"{NEW.format('batch')} and ({used})",
        "entry": STAYS.format("entry"),
        "choice": STAYS.format("choice"),
        "erased": NEW.format("erased"),
    }
    draft_rows.erase_where_others_erased(db)
    for table, which in rows.items():
        columns = ", ".join(schema.COLUMNS[table])
        db.execute(f"insert into main.{table} ({columns}) select {columns} from theirs.{table} where {which}")
    if some_go:
        erase.take_away(db, "select id from temp.gone")
