"""Sentences of the faults of a file."""

from tracker.diary.errors import BrokenFile, Fault, in_one_sentence


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


def test_an_error_of_the_system_names_the_file_and_the_reason() -> None:
    assert in_one_sentence(OSError(28, "No space left on device", "page.txt")) == (
        "page.txt cannot be read or written: no space left on device."
    )
    assert in_one_sentence(OSError(28, "No space left on device")) == (
        "The output cannot be read or written: no space left on device."
    )


def test_after_twenty_faults_the_rest_is_counted() -> None:
    broken = str(BrokenFile("a.csv", [Fault(n, "", "bad.") for n in range(1, 26)], "Stop."))
    assert broken.splitlines()[19:] == ["a.csv: line 20: bad.", "... and 5 more.", "Stop."]
