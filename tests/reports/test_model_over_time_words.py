"""The model over time beside the distribution: stable checks of a magnitude are not called normal by it."""

import numpy as np

from spc.reports.model_words import over_time_words
from spc.statistics import model_capability


def test_stable_checks_of_a_magnitude_leave_the_shape_open() -> None:
    random = np.random.default_rng(11)
    straight = np.abs(0.010 + 0.003 * random.normal(size=(40, 2))).tolist()
    magnitude = model_capability(straight, None, 0.060, kind="straightness")
    size = model_capability(straight, None, 0.060, kind="diameter", model="normal")
    assert (magnitude.over_time is not None, magnitude.plain) == (True, None)
    assert size.over_time is not None
    assert size.over_time.model == "A1"
    assert "That is model A1 of ISO 22514-2." in over_time_words(size)
    said = over_time_words(magnitude)
    assert "model A1 of" not in said
    assert "Level and spread stood still." in said
