"""A locked record in the app: its list of commands locks it at once."""

from __future__ import annotations

from pathlib import Path

from tests.keeping import keep
from tests.record.sample import TODAY
from tests.screens.conftest import Opened
from tracker.diary.clock import Clock
from tracker.record import lock_keys, locking
from tracker.record.lock_keys import LockKey
from tracker.record.store import Record

KEY = LockKey(b"k" * 32, b"s" * 16)


def named(pilot: object) -> list[str]:
    app = pilot.app  # type: ignore[attr-defined]
    return [command.title for command in app.get_system_commands(app.screen)]


async def test_lock_now_forgets_the_key_and_leaves(tmp_path: Path, clock: Clock, opened: Opened) -> None:
    path = tmp_path / "record.sqlite"
    with Record.open(path, clock) as record:
        keep(record, TODAY, mood="3")
    locking.lock(path, KEY)
    with Record.open(path, clock) as record:
        async with opened(record) as pilot:
            commands = pilot.app.get_system_commands(pilot.app.screen)
            next(command for command in commands if command.title == "Lock now").callback()
            await pilot.pause()
            assert pilot.app._exit
        assert record.day(TODAY).mood is not None
    assert lock_keys.known(KEY.salt) is None


async def test_where_nothing_is_locked_the_lines_to_type_are_named_alone(
    begun: Record, opened: Opened
) -> None:
    async with opened(begun) as pilot:
        titles = named(pilot)
    assert "Lock now" not in titles
    assert [title for title in titles if "lock " in title] == [
        "lock (command line): Lock the record with a passphrase, for one who shares a computer.",
        "unlock (command line): Make a locked record an open one again, for good.",
    ]
