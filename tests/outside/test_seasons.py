"""The cosinor and the lengths of seasons against published values."""

from datetime import date

import numpy as np
import pytest

from tests.outside.tables import column
from tracker.analysis.chance import f_upper
from tracker.analysis.seasons import cosinor, seasons
from tracker.analysis.series import Floats

DEGREES = np.array([97, 130, 167.5, 187.5, 218, 247.5, 285, 315, 337.5])
NINE = np.array([102, 96.8, 97, 92.5, 95, 93, 99.4, 99.8, 105.5])


def test_cosinor_of_the_nine_points() -> None:
    # Nelson et al. 1979, as carried by cosinor programs since 2008
    fit = cosinor(DEGREES, NINE, 360)
    assert (fit.mean, fit.cosine, fit.sine) == pytest.approx(
        (99.7269745887, 5.67587299832, 2.92194951534), abs=1e-9
    )
    assert fit.amplitude == pytest.approx(6.38383296016, abs=1e-9)
    assert -fit.angle == pytest.approx(-0.4754187912802, abs=1e-9)


def test_zero_amplitude_test_of_the_nine_points() -> None:
    # R lm: F(2, 6) = 16.9496638466, p = 0.0034006115, R^2 = 0.8496215264
    assert f_upper(_f(DEGREES, NINE, 360), 2, 6) == pytest.approx(0.0034006115, abs=1e-9)


def _f(t: Floats, values: Floats, period: float) -> float:
    fit = cosinor(t, values, period)
    angle = 2 * np.pi * t / period
    fitted = fit.mean + fit.cosine * np.cos(angle) + fit.sine * np.sin(angle)
    explained = 1 - ((values - fitted) ** 2).sum() / ((values - values.mean()) ** 2).sum()
    return float(explained / 2 / ((1 - explained) / (len(t) - 3)))


def test_nottinghams_year_peaks_in_july() -> None:
    # Anderson 1976, 240 months, t = 0 for January 1920; R lm
    degrees = column("nottingham-temperature.csv", "degf")
    fit = cosinor(np.arange(240.0), degrees, 12)
    assert (fit.mean, fit.cosine, fit.sine) == pytest.approx(
        (49.0395833333, -11.4733253478, -1.3905398939), abs=1e-8
    )
    assert fit.amplitude == pytest.approx(11.5572832332, abs=1e-8)
    assert fit.angle / (2 * np.pi) * 12 % 12 == pytest.approx(6.2303469706, abs=1e-8)


def test_nottinghams_twelve_means_hold_the_same_wave() -> None:
    """Closed form: (1/6) sum of the month means times cosine and sine."""
    means = column("nottingham-temperature.csv", "degf").reshape(20, 12).mean(axis=0)
    fit = cosinor(np.arange(12.0), means, 12)
    angle = np.pi * np.arange(12) / 6
    assert (fit.cosine, fit.sine) == pytest.approx(
        ((means * np.cos(angle)).sum() / 6, (means * np.sin(angle)).sum() / 6), abs=1e-10
    )


@pytest.mark.parametrize(
    ("name", "days"),
    [
        ("winter 2023/24", 91),  # holds 29 February 2024
        ("winter 2024/25", 90),
        ("winter 2025/26", 90),
        ("spring 2024", 92),
        ("summer 2024", 92),
        ("autumn 2024", 91),
    ],
)
def test_meteorological_seasons_are_whole_months(name: str, days: int) -> None:
    # Met Office: winter December to February, spring March to May, summer June to August, autumn the rest
    found = {season.name: season for season in seasons(date(2023, 12, 1), date(2026, 2, 28))}
    assert (found[name].last - found[name].first).days + 1 == days
