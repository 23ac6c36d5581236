"""The exact test of a trial against published data and a reference library.

Checked against other programs: the share of patterns (Fisher's own count, scipy.stats.permutation_test) and
the lot (the first bit of SHA-256 as hashlib and a published test vector give it). The differences of pairs
are checked by hand in tests/analysis.
"""

import hashlib

import numpy as np
import pytest
from scipy import stats

from tests.outside.tables import column
from tracker.analysis.series import Floats
from tracker.analysis.trials import share_of_patterns
from tracker.diary.trial import arms_of

SEED = "5a" * 32


def exact_share(differences: Floats) -> float:
    """The share of all patterns of signs, by scipy.stats."""
    found = stats.permutation_test(
        (differences,), np.sum, permutation_type="samples", alternative="greater", n_resamples=2**20
    )
    return float(found.pvalue)


def test_darwins_maize_has_fishers_share_of_patterns() -> None:
    # Fisher 1935, The Design of Experiments, section 21: 863 of 32,768 reach the sum on one side
    differences = column("darwin-maize.csv", "difference_eighth_inch")
    assert share_of_patterns(differences, SEED) == 863 / 32768


@pytest.mark.parametrize("pairs", [6, 8, 12])
def test_every_pattern_is_looked_at_as_by_an_exact_reference(pairs: int) -> None:
    # scipy.stats.permutation_test with permutation_type="samples" enumerates the signs
    differences = np.random.default_rng(pairs).normal(0.5, 1, pairs)
    assert share_of_patterns(differences, SEED) == pytest.approx(exact_share(differences), abs=1e-12)


def test_more_than_fifteen_pairs_come_near_the_exact_share() -> None:
    # exact by scipy.stats.permutation_test; 9,999 drawn patterns have a standard error of 0.004 here
    differences = np.random.default_rng(2).normal(0.2, 1, 18)
    assert share_of_patterns(differences, SEED) == pytest.approx(exact_share(differences), abs=0.02)


def test_the_lot_is_the_first_bit_of_a_published_hash() -> None:
    # FIPS 180-2, appendix B.1: SHA-256 of "abc" begins with ba, whose highest bit is set
    assert hashlib.sha256(b"abc").hexdigest().startswith("ba7816bf")
    for pair in range(1, 20):
        first = hashlib.sha256(bytes.fromhex(SEED) + f"{pair}".encode()).hexdigest()[0]
        assert arms_of(SEED, pair) == (("A", "B") if first in "89abcdef" else ("B", "A"))
