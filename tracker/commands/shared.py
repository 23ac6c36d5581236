"""What several commands share: opening the record, reading a day, asking whether a person is there."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TypeVar

import click

from tracker import words
from tracker.commands import named_record, terminal
from tracker.commands.named_record import IfMissing
from tracker.commands.passphrases import have_key
from tracker.diary.answers import begins_earlier
from tracker.diary.dates import read_day
from tracker.diary.errors import NobodyThere, UnknownValue
from tracker.record.files import is_age_file
from tracker.record.store import Record

Thing = TypeVar("Thing")
STREAM = Path("-")
"""Named for a file: what comes in from another program, or goes out to one."""
LISTED = 20
"""Lines of a list that are shown."""
SHORTEST_PASSPHRASE = 8


def record_path(ctx: click.Context) -> Path:
    """The file named by --record or the environment, or the platform's place."""
    return named_record.place_of(ctx.find_root().obj)


def open_record(ctx: click.Context, if_missing: IfMissing) -> Record:
    """The record of this call; closed, and backed up once a day, when the command ends."""
    record = named_record.opened(ctx.find_root().obj, if_missing)
    record.db.on_wait = terminal.say
    ctx.call_on_close(lambda: _end(record))
    return record


def _end(record: Record) -> None:
    terminal.back_up(record)
    record.close()


def typed_day(text: str | None, record: Record, ahead: bool = False) -> date:
    """The day meant on the command line; none: today. Of a rota, which lies `ahead`, the next one."""
    return read_day(text or "today", record.today(), ahead)


def day_or_none(text: str | None, record: Record, ahead: bool = False) -> date | None:
    """The day meant by a word of the command line, where there is one."""
    return typed_day(text, record, ahead) if text else None


def typed_days(words: Sequence[str], record: Record) -> tuple[date, date | None]:
    """A day, or the first and the last of several: `mon fri`, `27 november`, `1 april to 14 april`.

    Raises what `read_day` does, and says how days of several words are written.
    """
    text = " ".join(words)
    first, to, last = text.partition(" to ")
    if to:
        return typed_day(first, record), typed_day(last, record)
    try:
        return typed_day(text, record), None
    except UnknownValue as error:
        if len(words) == 2:
            with suppress(UnknownValue):
                return typed_day(words[0], record), typed_day(words[1], record)
        hint = " Put 'to' between two days: 1 april to 14 april." if len(words) > 1 else ""
        raise UnknownValue(f"{error}{hint}") from None


def say_dry_run() -> None:
    """Say why nothing is different now."""
    click.echo("Nothing was changed, because this was a dry run.")


ROWS = {
    "entry": ("entry", "entries"),
    "choice": ("setting", "settings"),
    "batch": ("action", "actions"),
    "erased": ("erased span", "erased spans"),
    "draft": ("draft", "drafts"),
}
"""What the rows of each table are called."""


def counted_rows(counts: Mapping[str, int]) -> list[str]:
    """How many rows of each table there are, without those of which there are none: `2 entries`."""
    return [words.counted(counts[table], *names) for table, names in ROWS.items() if counts.get(table)]


def first_of(lines: Sequence[str]) -> Iterator[str]:
    """The first lines of a list, and how many more there are."""
    yield from lines[:LISTED]
    if len(lines) > LISTED:
        yield f"  ... and {len(lines) - LISTED} more."


def agreed(question: str, yes: bool) -> bool:
    """Whether she agrees; where nobody can answer, only --yes does."""
    if yes:
        return True
    need_somebody("--yes goes on without asking")
    return click.confirm(question)


def new_passphrase(
    lost: str = "Whoever forgets this passphrase has lost the locked file; write it down somewhere safe.",
) -> str:
    """A passphrase that locks something, typed twice and never shown; first it is said how that is `lost`."""
    need_somebody("the passphrase that locks a file is typed at a terminal")
    click.echo(lost)
    passphrase: str = click.prompt(
        "Passphrase to lock it with", hide_input=True, confirmation_prompt="The same again"
    )
    if len(passphrase) < SHORTEST_PASSPHRASE:
        raise UnknownValue(
            f"A passphrase has at least {SHORTEST_PASSPHRASE} characters; nothing was written."
        )
    return passphrase


def passphrase_for(path: Path) -> str:
    """The passphrase that unlocks a file; none is needed for one that is not locked.

    That of a locked record is asked for where its key is not known; from then on it is.
    """
    if not is_age_file(path):
        have_key(path)
        return ""
    need_somebody("the passphrase that unlocks a file is typed at a terminal")
    passphrase: str = click.prompt(f"Passphrase that unlocks {path.name}", hide_input=True)
    return passphrase


def need_somebody(instead: str) -> None:
    """Refuse to ask where nobody can answer, and say what does without asking."""
    if not terminal.somebody_is_there():
        raise NobodyThere(f"Nobody can answer here, because this is no terminal; {instead}.")


def tell_earlier_beginning(record: Record, began: date | None) -> None:
    """Say where the record begins now, if it began later before."""
    moved = begins_earlier(began, record.first_day(), "tracker undo") if began else ""
    if moved:
        click.echo(moved)


def with_bar(things: Iterable[Thing], few: int, what: str) -> Iterable[Thing]:
    """The things; of more than a few it is shown what is done and how far, where somebody sees it."""
    listed = list(things)
    if len(listed) < few or not sys.stderr.isatty():
        return listed
    return _bar(listed, what)


def _bar(listed: list[Thing], what: str) -> Iterable[Thing]:
    with click.progressbar(listed, label=what, file=sys.stderr) as shown:
        yield from shown
