"""What several commands share: opening the record, reading a day, asking whether a person is there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

import click

from tracker.commands import around, opening
from tracker.commands.opening import IfMissing
from tracker.diary.dates import day_for_text
from tracker.diary.errors import NobodyThere, UnknownValue
from tracker.record.store import Record

LISTED = 20
"""Lines of a list that are shown."""
SHORTEST_WORDS = 8


def record_path(ctx: click.Context) -> Path:
    """The file named by --record or the environment, or the platform's place."""
    return opening.place_of(ctx.find_root().obj)


def open_record(ctx: click.Context, if_missing: IfMissing) -> Record:
    """The record of this call; closed, and backed up once a day, when the command ends."""
    record = opening.opened(ctx.find_root().obj, if_missing)
    ctx.call_on_close(lambda: _end(record))
    return record


def _end(record: Record) -> None:
    around.back_up(record)
    record.close()


def read_day(text: str | None, record: Record) -> date:
    """The day meant by a word of the command line; none: today."""
    return day_for_text(text or "today", record.today())


def day_or_none(text: str | None, record: Record) -> date | None:
    """The day meant by a word of the command line, where there is one."""
    return read_day(text, record) if text else None


def say_dry_run() -> None:
    """Say why nothing is different now."""
    click.echo("Nothing was changed, because this was a dry run.")


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


def new_words() -> str:
    """The words that lock a file, typed twice and never shown."""
    need_somebody("the words that lock a file are typed at a terminal")
    click.echo("Whoever forgets these words has lost the locked file; write them down somewhere safe.")
    words: str = click.prompt("Words to lock it with", hide_input=True, confirmation_prompt="The same again")
    if len(words) < SHORTEST_WORDS:
        raise UnknownValue(f"Words to lock a file with take at least {SHORTEST_WORDS} characters.")
    return words


def words_for(path: Path) -> str:
    """The words that unlock a file; none are needed for one that is not locked."""
    if path.suffix != ".age":
        return ""
    need_somebody("the words that unlock a file are typed at a terminal")
    words: str = click.prompt(f"Words that unlock {path.name}", hide_input=True)
    return words


def need_somebody(instead: str) -> None:
    """Refuse to ask where nobody can answer, and say what does without asking."""
    if not around.somebody_is_there():
        raise NobodyThere(f"Nobody can answer here, because this is no terminal; {instead}.")
