"""A SHA-256 over the rest of a row: finds a flipped bit that SQLite itself does not see."""

from __future__ import annotations

import json
from collections.abc import Iterable


def digest(values: Iterable[str | int | None]) -> str:
    """The digest of a row's values, in the order of its columns, without the digest itself."""
    import hashlib  # not at the top: it loads OpenSSL, which the first picture need not wait for

    text = json.dumps(list(values), ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()
