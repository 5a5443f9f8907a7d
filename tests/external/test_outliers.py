"""The modified z-score against the worked example of those who proposed it."""

import pytest

from monreq.domain.outliers import UNUSUAL_SCORE, modified_z_score

pytestmark = pytest.mark.external

# Iglewicz and Hoaglin, How to Detect and Handle Outliers, ASQC Basic References in Quality Control 16, 1993: their ten
# values, of which the plain z-score finds none. The sizes of the scores stand as worked out in a public course, repository
# richieBao/python-urbanPlanning on GitHub, the page on outliers, printed to eight places.
VALUES = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3]
SIZES = [
    1.57383333,
    0.6745,
    0.22483333,
    0.22483333,
    0.6745,
    1.57383333,
    0.6745,
    0.6745,
    25.85583333,
    26.3055,
]


def test_scores_of_the_ten_values_are_as_published() -> None:
    """Source: see above. The page's example of NIST/SEMATECH e-Handbook 1.3.5.17 is the formula alone."""
    scores = [modified_z_score(one, VALUES) for one in VALUES]

    assert [abs(one) for one in scores] == pytest.approx(SIZES, abs=1e-8)
    assert [one > 0 for one in scores] == [one > 2.45 for one in VALUES]


def test_the_two_outliers_are_found_and_no_other() -> None:
    """Source: Iglewicz and Hoaglin, as above: 8.2 and 8.3 are the outliers at 3.5."""
    assert [one for one in VALUES if abs(modified_z_score(one, VALUES)) > UNUSUAL_SCORE] == [8.2, 8.3]
