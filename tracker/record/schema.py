"""The tables of the record, and the steps that bring an older file up to today.

Three append-only tables and one of tombstones. Nothing is ever updated; the newest row counts,
newest by (`turn`, `recorded_at`, `id`), so that two copies agree whatever their clocks did. What was typed
and not kept lies beside them, in a table that belongs to this file alone.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database

    from tracker.record.driver import Connection

APPLICATION_ID = 0x74726B64
"""`trkd` in the header of the file: this is a record of ours."""

DRAFT = """
create table draft (
    place text primary key,
    text text not null check (text <> '')
) strict, without rowid
"""
"""What was typed and not kept, by the place where it was typed."""

TABLES = f"""
create table batch (
    id text primary key,
    turn integer not null check (turn > 0),
    what text not null,
    undoes text,
    recorded_at text not null,
    digest text not null
) strict;

create table entry (
    id text primary key,
    day text not null,
    field text not null check (field in ('mood', 'sleep', 'anxious', 'shift', 'note')),
    value text not null,
    state text not null check (state in ('kept', 'could not say', 'cleared')),
    detail text,
    source text not null check (source in ('typed', 'command', 'imported', 'demo')),
    basis text not null check (basis in ('at the time', 'remembered', 'paper')),
    turn integer not null check (turn > 0),
    recorded_at text not null,
    offset integer not null,
    batch text not null references batch (id),
    restores text,
    digest text not null
) strict;

create table choice (
    id text primary key,
    name text not null,
    value text,
    turn integer not null check (turn > 0),
    recorded_at text not null,
    offset integer not null,
    batch text not null references batch (id),
    restores text,
    digest text not null
) strict;

create table erased (
    id text primary key,
    from_day text not null,
    to_day text not null,
    turn integer not null check (turn > 0),
    recorded_at text not null,
    digest text not null
) strict;
{DRAFT};
create index entry_by_day on entry (day, field, turn, recorded_at, id);
create index entry_by_batch on entry (batch);
create index choice_by_name on choice (name, turn, recorded_at, id);
create index choice_by_batch on choice (batch);
create index batch_by_turn on batch (turn, recorded_at, id);

create view current_entry as
select * from entry e where not exists (
    select 1 from entry n where n.day = e.day and n.field = e.field
    and (n.turn, n.recorded_at, n.id) > (e.turn, e.recorded_at, e.id)
);

create view current_choice as
select * from choice c where not exists (
    select 1 from choice n where n.name = c.name
    and (n.turn, n.recorded_at, n.id) > (c.turn, c.recorded_at, c.id)
);
"""

IDENTITY = "record.id"
"""The choice that names a record, written by its first action; of several, after a merge, the smallest."""

SCALES_TAKEN_BACK = """
select c.name, c.value from choice c join current_choice n on n.name = c.name
where c.name like 'scale.%' and n.value is null and c.value is not null
order by c.turn, c.recorded_at, c.id
"""
"""Scales that do not stand any more, with every value they had, the last one at the end."""

COLUMNS: dict[str, tuple[str, ...]] = {
    "batch": ("id", "turn", "what", "undoes", "recorded_at", "digest"),
    "entry": (
        "id", "day", "field", "value", "state", "detail", "source", "basis", "turn",
        "recorded_at", "offset", "batch", "restores", "digest",
    ),
    "choice": (
        "id", "name", "value", "turn", "recorded_at", "offset", "batch", "restores", "digest",
    ),
    "erased": ("id", "from_day", "to_day", "turn", "recorded_at", "digest"),
}  # fmt: skip
"""Every table of what was kept, with its columns; `batch` first, because others point at it."""


def _make_room_for_drafts(db: Database) -> None:
    db.execute(DRAFT)


STEPS: tuple[Callable[[Database], None], ...] = (_make_room_for_drafts,)
"""Step n, counted from 1, brings a file from version n to n + 1; steps are appended, never edited.

A step works with sqlite-utils: `table.transform` keeps types, checks, references and indexes.
"""

VERSION = 1 + len(STEPS)


def migrate(db: Connection) -> None:
    """Make the tables of an empty file, or bring an older one up to `VERSION`, all in one transaction.

    Does nothing to a current one. A new file comes from the text of the tables alone.
    """
    with db.transaction():
        version = db.value("pragma user_version")
        if version == 0:
            for statement in filter(str.strip, TABLES.split(";")):
                db.execute(statement)
        for step in STEPS[version - 1 :] if version else ():
            with db.in_sentences():
                step(db.utils())
        db.execute(f"pragma user_version = {VERSION}")
        db.execute(f"pragma application_id = {APPLICATION_ID}")


def faults(db: Connection) -> list[str]:
    """Where tables, indexes, views and triggers are not those of a new record of the same version."""
    if db.value("pragma user_version") != VERSION:
        return []
    with type(db).in_memory(db.path) as new:
        migrate(new)
        made = _texts(new)
    found = _texts(db)
    differing = {thing for thing, _ in made.items() ^ found.items()}
    return [f"the {kind} {name} is not as it was made" for kind, name in sorted(differing)]


def _texts(db: Connection) -> dict[tuple[str, str], str]:
    rows = db.rows("select type, name, sql from sqlite_master where name not like 'sqlite_%'")
    return {(row["type"], row["name"]): row["sql"] for row in rows}
