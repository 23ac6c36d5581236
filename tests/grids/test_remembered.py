"""What was drawn is used again as long as what it rests on stays equal."""

from collections.abc import Callable

from tracker.grids.remembered import Remembered


def summing(numbers: list[int], calls: list[list[int]]) -> Callable[[], int]:
    def make() -> int:
        calls.append(numbers)
        return sum(numbers)

    return make


def test_a_result_is_made_once_and_anew_where_its_basis_is_another() -> None:
    remembered, calls = Remembered[int](most=8), list[list[int]]()
    asked = [[1, 2], [1, 2], [1, 3], [1, 2]]
    assert [remembered.get("sum", numbers, summing(numbers, calls)) for numbers in asked] == [3, 3, 4, 3]
    assert calls == [[1, 2], [1, 3], [1, 2]]


def test_each_key_has_a_result_of_its_own() -> None:
    remembered, calls = Remembered[int](most=8), list[list[int]]()
    asked = [("a", [1]), ("b", [2]), ("a", [1]), ("b", [2])]
    assert [remembered.get(key, numbers, summing(numbers, calls)) for key, numbers in asked] == [1, 2, 1, 2]
    assert calls == [[1], [2]]


def test_no_more_than_so_many_results_are_held() -> None:
    remembered = Remembered[int](most=2)
    for key in range(5):
        remembered.get(key, None, lambda: 0)
    assert len(remembered._results) <= 2
