"""Lagged correlation on series whose lead is known, against R's cor over the pairs of each lag."""

import numpy as np
import pytest

from tests.outside.tables import column
from tracker.analysis.lags import count_pairs, lagged_spearman

LAGS = np.arange(-12, 13)


def test_el_nino_comes_half_a_year_before_the_fish() -> None:
    # Shumway & Stoffer, southern oscillation and recruitment; R
    soi, fish = column("soi-recruitment.csv", "soi"), column("soi-recruitment.csv", "recruitment")
    lags = np.array([-5, 0, 5, 6, 7, 8, 12])
    expected = [-0.267534, 0.031824, -0.517830, -0.602666, -0.599299, -0.555525, -0.146561]
    assert lagged_spearman(soi, fish, lags) == pytest.approx(expected, abs=1e-6)
    assert count_pairs(soi, fish, lags).tolist() == [448, 453, 448, 447, 446, 445, 441]


@pytest.mark.parametrize(("first", "second", "peak"), [("soi", "recruitment", 6), ("recruitment", "soi", -6)])
def test_turning_the_two_round_turns_the_lead_round(first: str, second: str, peak: int) -> None:
    file = "soi-recruitment.csv"
    found = np.abs(lagged_spearman(column(file, first), column(file, second), LAGS))
    assert LAGS[found.argmax()] == peak


def test_the_leading_indicator_leads_sales_by_three() -> None:
    # Box & Jenkins 1976, series M, first differences; R
    lead = np.diff(column("box-jenkins-series-m.csv", "lead"))
    sales = np.diff(column("box-jenkins-series-m.csv", "sales"))
    lags = np.arange(6)
    expected = [-0.055147, 0.091052, -0.385964, 0.683775, 0.085767, 0.110167]
    assert lagged_spearman(lead, sales, lags) == pytest.approx(expected, abs=1e-6)
    assert count_pairs(lead, sales, lags).tolist() == [149, 148, 147, 146, 145, 144]
    assert LAGS[np.abs(lagged_spearman(sales, lead, LAGS)).argmax()] == -3


def test_deaths_of_men_and_women_rise_together() -> None:
    # Diggle 1990, table A.3; R
    men, women = column("lung-deaths-uk.csv", "male"), column("lung-deaths-uk.csv", "female")
    found = lagged_spearman(men, women, np.array([-1, 0, 1]))
    assert found == pytest.approx([0.760785, 0.955064, 0.792320], abs=1e-6)


def test_the_largest_bar_is_not_the_direction() -> None:
    # Hare and lynx, 1845-1935: the prey leads by one year, yet the largest correlation lies at -3; R
    hare, lynx = column("hudson-hare-lynx.csv", "hare"), column("hudson-hare-lynx.csv", "lynx")
    found = lagged_spearman(hare, lynx, np.array([-3, 1, 2]))
    assert found == pytest.approx([-0.609104, 0.500731, 0.480314], abs=1e-6)


def test_gaps_cost_pairs_and_nothing_is_filled_in() -> None:
    # New York 1973, solar radiation (7 gaps) and ozone (37 gaps); R, use = "complete.obs" at each lag
    solar, ozone = column("airquality-1973.csv", "solar"), column("airquality-1973.csv", "ozone")
    lags = np.arange(-3, 4)
    expected = [
        -0.011117691,
        -0.000147713,
        0.045877479,
        0.348186470,
        0.131864338,
        0.045049196,
        -0.040607731,
    ]
    assert lagged_spearman(solar, ozone, lags) == pytest.approx(expected, abs=1e-8)
    assert count_pairs(solar, ozone, lags).tolist() == [106, 108, 111, 111, 108, 107, 106]
