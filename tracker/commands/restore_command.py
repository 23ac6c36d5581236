"""`tracker restore`."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tracker import words
from tracker.commands.named_record import begun, opened
from tracker.commands.passphrases import have_key
from tracker.commands.shared import (
    LISTED,
    agreed,
    counted_rows,
    first_of,
    passphrase_for,
    record_path,
    say_dry_run,
)
from tracker.commands.terminal import told_if_long
from tracker.diary.errors import (
    DamagedRecord,
    ForeignRecord,
    KeyNeeded,
    NewerRecord,
    UnknownValue,
    UnwritableRecord,
)
from tracker.record import snapshots
from tracker.record.backups import beforehand
from tracker.record.connection import (
    has_damaged_salt,
    is_locked,
    key_of,
    refuse_what_is_not_ours,
    was_a_record,
)
from tracker.record.files import (
    is_age_file,
    is_noted_as_locked,
    is_there,
    may_be_locked,
    note_as_locked,
    private_folder,
)
from tracker.record.integrity import look_over
from tracker.record.row_checks import all_faults
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.record.lock_keys import LockKey

EXAMPLES = """\b
Examples:
  tracker restore ~/.local/share/tracker-days/record.sqlite-backups/record-2026-03-10.sqlite --dry-run
  tracker restore record-copy.sqlite.age
"""
LOCKED_AS_THE_COPY = "It is locked, as the copy is."
NOT_LOCKED_ANY_MORE = "It is not locked any more, because the copy is not; tracker lock locks it."
NOTHING_TO_BRING = "Nothing would change: both hold the same entries and settings."


@click.command("restore", epilog=EXAMPLES)
@click.argument("source", metavar="FROM", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--dry-run", is_flag=True, help="Say what would change, and change nothing.")
@click.option("--yes", is_flag=True, help="Go on without asking.")
@click.pass_context
def command(ctx: click.Context, /, source: Path, dry_run: bool, yes: bool) -> None:
    """Bring the record back to what a backup holds, after saying what would change.

    The record as it is now is copied first, so that this can be taken back the same way. One that is
    damaged, or is none any more, is laid aside beside the copy that takes its place.
    """
    path = record_path(ctx)
    with snapshots.opened(source, passphrase_for(source)) as copy:
        for line in _what_is_wrong(copy):
            click.echo(line)
        key = None if is_age_file(source) else key_of(source)
        damage = _damage(path, yes) if is_there(path) else ""
        if damage:
            _over_a_damaged_one(path, damage, copy, key or _known_key(path), dry_run, yes)
        elif key and not is_there(path):
            _where_none_is(path, copy, key, dry_run, yes)
        else:
            _over_a_whole_one(ctx, copy, dry_run, yes)


def _damage(path: Path, yes: bool) -> str:
    """What is wrong with what lies at the record's place; empty where it is whole."""
    try:
        refuse_what_is_not_ours(path)
        if has_damaged_salt(path):
            return f"The record {path} is damaged from its first byte on."
        have_key(path)
        with told_if_long("Checking the record"):
            return f"The record {path} is damaged." if look_over(path).faults else ""
    except UnknownValue:
        if yes:  # a slip of the keys shall not lay a good record aside
            raise
        return f"The record {path} was not opened: it is damaged, or has another passphrase."
    except DamagedRecord:
        return f"The record {path} is damaged or empty."
    except ForeignRecord:
        if not was_a_record(path):
            raise
        if may_be_locked(path):
            return (
                f"The record {path} is damaged, or lost the note that it is locked (tracker lock mends it)."
            )
        return f"The record {path} is damaged from its first byte on."
    except NewerRecord:
        return f"The record {path} is damaged, or was made by a newer version of this program."


def _over_a_whole_one(ctx: click.Context, copy: Record, dry_run: bool, yes: bool) -> None:
    record = opened(ctx.find_root().obj, "empty")
    ctx.call_on_close(record.close)
    with told_if_long("Comparing it with the copy"):
        changes = list(_what_changes(snapshots.difference(record, copy)))
    held = f"The copy holds {words.counted(len(copy.days()), 'day')}, the record {len(record.days())}."
    for line in (held, *(changes or [NOTHING_TO_BRING])):
        click.echo(line)
    if dry_run:
        say_dry_run()
    elif (changes or not is_there(record.path)) and agreed("Bring it back?", yes):
        if not is_there(record.path):
            record = begun(ctx.find_root().obj)
            ctx.call_on_close(record.close)
        aside = None if record.is_empty() else beforehand(record, "restore")
        snapshots.put_back(record, copy)
        click.echo(f"Brought back.{f' The record as it was is kept in {aside}.' if aside else ''}")
        if is_noted_as_locked(record.path) and not record.is_locked:
            click.echo(NOT_LOCKED_ANY_MORE)


def _known_key(path: Path) -> LockKey | None:
    """The key of a damaged record, where it is known."""
    with suppress(KeyNeeded, UnwritableRecord):
        return key_of(path)
    return None


def _where_none_is(path: Path, copy: Record, key: LockKey, dry_run: bool, yes: bool) -> None:
    """Bring a locked record back as one: nothing of it is open on the way."""
    click.echo(f"There is no record at {path}. The copy holds {words.counted(len(copy.days()), 'day')}.")
    if dry_run:
        say_dry_run()
    elif agreed("Bring it back?", yes):
        private_folder(path.parent)
        note_as_locked(path)
        snapshots.put_where_none_is(copy, path, key)
        click.echo(f"Brought back. {LOCKED_AS_THE_COPY}")


def _over_a_damaged_one(
    path: Path, damage: str, copy: Record, key: LockKey | None, dry_run: bool, yes: bool
) -> None:
    was_locked = is_locked(path)
    click.echo(f"{damage} The copy holds {words.counted(len(copy.days()), 'day')}.")
    if dry_run:
        say_dry_run()
    elif agreed("Put the copy in its place?", yes):
        if key:
            note_as_locked(path)
        damaged = snapshots.put_in_place(copy, path, key)
        click.echo(f"Brought back. What lay there stands beside it as {damaged.name}.")
        if bool(key) != was_locked:
            click.echo(LOCKED_AS_THE_COPY if key else NOT_LOCKED_ANY_MORE)


def _what_is_wrong(copy: Record) -> Iterator[str]:
    """What a look at every row of the copy finds; the only copy there is may still be wanted."""
    faults = all_faults(copy.db)
    yield from first_of([str(fault) for fault in faults])
    if faults:
        number = words.counted(len(faults), "fault")
        yield f"The copy is not whole: {number}. Take another one if there is one."


def _what_changes(between: snapshots.Difference) -> Iterator[str]:
    """What would be otherwise in the record; nothing where it would not."""
    goes, comes = (words.listed(counted_rows(_told(rows))) for rows in (between.goes, between.comes))
    if goes:
        yield f"Would go, because the copy lacks them: {goes}."
    if comes:
        yield f"Would come, because the copy alone holds them: {comes}."
    if between.days:
        listed = ", ".join(day.isoformat() for day in between.days[:LISTED])
        yield f"Days: {listed}{' ...' if len(between.days) > LISTED else ''}"
    if between.goes["erased"]:
        yield "Days that were erased since would come back."


def _told(rows: dict[str, int]) -> dict[str, int]:
    """Entries and settings; actions only where nothing else differs, for each of those belongs to one."""
    told = {table: number for table, number in rows.items() if table in ("entry", "choice")}
    return told if any(told.values()) else {"batch": rows["batch"]}
