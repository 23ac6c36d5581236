"""What the analysis may load: arrays and special functions, and nothing of files, screens or commands."""

import subprocess
import sys

FORBIDDEN = ("scipy.stats", "sqlite3", "sqlite_utils", "textual", "rich", "click")


def test_findings_load_neither_statistics_packages_nor_screens_nor_sql() -> None:
    """In a fresh process: scipy.stats alone takes longer to load than a year takes to judge."""
    code = (
        "import sys, tracker.analysis.findings_json, tracker.analysis.findings; print(*sorted(sys.modules))"
    )
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert [name for name in FORBIDDEN if name in loaded.stdout.split()] == []
