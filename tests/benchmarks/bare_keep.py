"""The least that a key can do: one durable row in a table, and one line drawn again.

python -m tests.benchmarks.bare_keep FILE
"""

from __future__ import annotations

import sqlite3
import sys

from textual import events

from tests.benchmarks.bare_app import BareApp, OneLine


class BareKeep(BareApp):
    """Every key is a row, durable before the line is drawn."""

    def __init__(self, path: str) -> None:
        super().__init__()
        self.db = sqlite3.connect(path, isolation_level=None)
        self.db.execute("pragma journal_mode = wal")
        self.db.execute("pragma synchronous = full")
        self.db.execute("create table if not exists kept (key text not null) strict")

    def on_key(self, event: events.Key) -> None:
        self.db.execute("insert into kept (key) values (?)", (event.key,))
        line = self.query_one(OneLine)
        line.keys += 1
        line.refresh()


if __name__ == "__main__":
    BareKeep(sys.argv[1]).run()
