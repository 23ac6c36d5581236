"""Sentences of the faults of a file."""

from tracker.diary.errors import BrokenFile, Fault


def test_a_broken_file_is_reported_whole_with_places_and_advice() -> None:
    broken = BrokenFile("a.csv", [Fault(2, "sleep", "'x' is no bucket."), Fault(3, "", "too short.")])
    assert str(broken) == (
        "a.csv: line 2, sleep: 'x' is no bucket.\n"
        "a.csv: line 3: too short.\n"
        "Nothing was kept; mend these lines and import the file again."
    )


def test_a_file_without_lines_names_the_place_or_nothing() -> None:
    assert str(Fault(0, "entry 3", "no day.")) == "entry 3: no day."
    assert str(Fault(0, "", "no record.")) == "no record."


def test_after_twenty_faults_the_rest_is_counted() -> None:
    broken = str(BrokenFile("a.csv", [Fault(n, "", "bad.") for n in range(1, 26)], "Stop."))
    assert broken.splitlines()[19:] == ["a.csv: line 20: bad.", "... and 5 more.", "Stop."]
