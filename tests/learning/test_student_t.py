"""Student's t for whole degrees of freedom, held against scipy."""

import pytest
from scipy.stats import t

from kit.errors import KitError
from kit.learning.student_t import student_t_quantile


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 10, 31, 200])
@pytest.mark.parametrize("chance", [0.0001, 0.05, 0.5, 0.6, 0.95, 0.995, 0.99999])
def test_quantiles_are_those_of_the_reference_library(freedom, chance):
    """Odd and even, both tails, the middle."""
    assert student_t_quantile(chance, freedom) == pytest.approx(t.ppf(chance, freedom), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("chance", "freedom"), [(0.0, 5), (1.0, 5), (1.2, 5), (0.5, 0)])
def test_what_has_no_quantile_is_refused(chance, freedom):
    """No chance, certainty, no freedom."""
    with pytest.raises(KitError, match=f"no quantile for a chance of {chance:g} and {freedom} degrees"):
        student_t_quantile(chance, freedom)
