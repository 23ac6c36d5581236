"""Drafts: what was typed and not kept, each at the place where it was typed.

They belong to one file alone. They have no batch, turn, history or undo, and no copy, export, merge or digest
holds them. One that is written over or taken away leaves no byte in its place (`secure_delete`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from itertools import chain

from tracker.record.driver import Connection

OF_A_DAY = "*.[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]"
"""What the place of a draft looks like that belongs to a day."""
IN_SPAN = f"place glob '{OF_A_DAY}' and substr(place, -10) between {{}} and {{}}"
"""Whether a draft belongs to a day from a first to a last one."""


def place_of(what: str, day: date | None = None) -> str:
    """The place of a draft by what is typed there, and on which day, if it belongs to one."""
    return f"{what}.{day}" if day else what


def drafts_at(db: Connection, places: Iterable[str]) -> dict[str, str]:
    """What was typed at some places and not kept; nothing for those without a draft."""
    wanted = list(places)
    marks = ", ".join("?" * len(wanted))
    rows = db.rows(f"select place, text from draft where place in ({marks})", wanted)
    return {row["place"]: row["text"] for row in rows}


def last_day(db: Connection) -> date | None:
    """The last day with a draft; None: there is none of a day."""
    rows = db.rows("select max(substr(place, -10)) as day from draft where place glob ?", (OF_A_DAY,))
    return date.fromisoformat(rows[0]["day"]) if rows[0]["day"] else None


def write(db: Connection, texts: Mapping[str, str]) -> None:
    """Let places hold these drafts, in a transaction; an empty one goes."""
    for place, text in texts.items():
        if text:
            db.execute(
                "insert into draft (place, text) values (?, ?)"
                " on conflict do update set text = excluded.text",
                (place, text),
            )
        else:
            db.execute("delete from draft where place = ?", (place,))


def forget(db: Connection, texts: Mapping[str, str]) -> None:
    """Take these drafts away, in one statement, but none that another window typed there instead."""
    rows = ", ".join(["(?, ?)"] * len(texts))
    db.execute(f"delete from draft where (place, text) in (values {rows})", chain(*texts.items()))


def erase_of_days(db: Connection, first: date, last: date) -> int:
    """Take the drafts of the days from first to last away; how many there were."""
    return db.execute(f"delete from draft where {IN_SPAN.format('?', '?')}", (f"{first}", f"{last}"))


def erase_where_others_erased(db: Connection) -> None:
    """Take the drafts of days away that are erased in the attached record, and were not known to be here."""
    span = IN_SPAN.format("s.from_day", "s.to_day")
    db.execute(
        "delete from main.draft where exists (select 1 from theirs.erased s"
        f" where s.id not in (select id from main.erased) and {span})"
    )


def leave_out(db: Connection) -> None:
    """Take all drafts out of a copy, so that no byte of them is left; one of version 1 has none."""
    if db.rows("select 1 from sqlite_master where name = 'draft'"):
        db.execute("pragma secure_delete = on")
        db.execute("delete from draft")


def take_over(db: Connection, copy: Connection) -> None:
    """Let a copy without drafts hold those of a record."""
    write(copy, {row["place"]: row["text"] for row in db.rows("select place, text from draft")})


def number_of(db: Connection) -> int:
    """How many drafts there are; raises DamagedRecord where one cannot be read."""
    return len(db.rows("select place, text from draft"))
