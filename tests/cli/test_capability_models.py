"""`spc capability` by models that are not normal, by kind, over time and against a requirement.

Indices of the Rayleigh and lognormal examples follow from their quantile functions (ISO 22514-2, general geometric
method, from memory): the samples are those quantiles, scaled so that the fitted model is the one of the example.
Which kind has which model is the usual convention in published capability guidance (from memory).
"""

import random
from math import exp, log, sqrt
from pathlib import Path
from statistics import NormalDist, fmean, pstdev

import pytest
from terminal import RINGS, Terminal

CONTRACT = ["n", "subgroups", "mean", "sigma_within", "sigma_overall", "model", "quantiles"]


def written(spc: Terminal, values: list[float], size: int = 5) -> Path:
    """Values as checks of `size` pieces, in an order that shows no time."""
    values = random.Random(1).sample(values, len(values))
    return in_order(spc, [values[start : start + size] for start in range(0, len(values), size)])


def in_order(spc: Terminal, checks: list[list[float]]) -> Path:
    header = ",".join(f"x{number}" for number in range(1, len(checks[0]) + 1))
    rows = [",".join(repr(value) for value in check) for check in checks]
    file = spc.folder / "checks.csv"
    file.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    return file


def answer_of(spc: Terminal, file: Path, *more: object) -> dict:
    said = spc("capability", "--readings", file, "--json", *more)
    assert (said.code, said.err) == (0, "")
    assert "NaN" not in said.out
    assert "Infinity" not in said.out
    return said.json


def shares(n: int) -> list[float]:
    return [(number + 0.5) / n for number in range(n)]


@pytest.fixture
def eccentric(spc: Terminal) -> Path:
    """A hundred pieces of a Rayleigh law with sigma 5."""
    values = [sqrt(-2.0 * log(1.0 - share)) for share in shares(100)]
    scale = 5.0 / sqrt(fmean(value**2 for value in values) / 2.0)
    return written(spc, [scale * value for value in values])


@pytest.fixture
def straightness(spc: Terminal) -> Path:
    """A hundred and twenty-five sizes of a bend with mean 1 and sigma 1, in a unit of 0.01."""
    bends = [NormalDist(1.0, 1.0).inv_cdf(share) for share in shares(125)]
    return written(spc, [0.01 * abs(bend) for bend in bends])


@pytest.fixture
def wearing(spc: Terminal) -> Path:
    """Twenty-five checks that fall steadily while the pieces of each keep their spread (invented)."""
    law, draw = NormalDist(), random.Random(7)
    checks = [[10.2 - 0.008 * k + 0.02 * law.inv_cdf(draw.random()) for _ in range(5)] for k in range(25)]
    return in_order(spc, checks)


@pytest.mark.parametrize("by", [("--kind", "runout"), ("--model", "rayleigh")])
def test_runout_by_the_rayleigh_model(spc: Terminal, eccentric: Path, by: tuple[str, str]) -> None:
    answer = answer_of(spc, eccentric, "--lower", 0, "--upper", 25, *by)
    assert list(answer)[:7] == CONTRACT
    assert answer["model"] == "rayleigh"
    assert not {"cp", "cpk"} & set(answer)
    assert answer["cpm"] is None  # the target is no end of a percentile: no formula, and the key stays
    assert answer["quantiles"]["q50"] == pytest.approx(5.887050, abs=5e-7)
    assert answer["quantiles"]["q99865"] == pytest.approx(18.176428, abs=5e-7)
    assert answer["ppk"]["estimate"] == pytest.approx(1.555241, abs=5e-7)
    assert answer["ppk"]["low"] < 1.555241 < answer["ppk"]["high"]
    assert answer["pp"] is None
    assert answer["fallout_ppm"] == pytest.approx(1e6 * exp(-12.5), abs=5e-6)
    assert (
        answer["fallout_interval_ppm"]["low"] < answer["fallout_ppm"] < answer["fallout_interval_ppm"]["high"]
    )
    assert "only the upper index counts" in answer["warning"]


def test_two_limits_by_the_lognormal_model(spc: Terminal) -> None:
    scores = [NormalDist().inv_cdf(share) for share in shares(100)]
    file = written(spc, [10.0 * exp(0.4 * score / pstdev(scores)) for score in scores])
    answer = answer_of(spc, file, "--lower", 2, "--upper", 40, "--model", "lognormal")
    assert answer["quantiles"]["q00135"] == pytest.approx(3.011970, abs=5e-7)
    assert answer["pp"]["estimate"] == pytest.approx(1.258741, abs=5e-7)
    assert answer["ppk"]["estimate"] == pytest.approx(1.144815, abs=5e-7)
    assert answer["fallout_ppm"] == pytest.approx(264.391 + 28.6583, abs=1e-3)
    assert answer["why"] == "lognormal as asked for."


def test_straightness_gets_the_folded_normal_model_and_says_why(spc: Terminal, straightness: Path) -> None:
    answer = answer_of(spc, straightness, "--lower", 0, "--upper", 0.05, "--kind", "straightness")
    assert answer["model"] == "folded_normal"
    assert "convention for straightness" in answer["why"]
    assert answer["quantiles"]["q99865"] == pytest.approx(0.0400004, rel=0.03)  # of the law itself
    assert answer["ppk"]["estimate"] == pytest.approx((5 - 1.05054) / (4.00004 - 1.05054), rel=0.05)
    assert answer["honest"]["ppk"]["low"] < answer["ppk"]["estimate"] < answer["honest"]["ppk"]["high"]
    table = spc("capability", "--readings", straightness, "--upper", 0.05, "--kind", "straightness").out
    assert "Model: folded normal by convention for straightness" in table
    assert "by the folded normal model" in table
    assert "Cpk" not in table
    assert "pieces are normal" not in table


@pytest.mark.parametrize(
    "model", ["half_normal", "folded_normal", "rayleigh", "weibull", "lognormal", "empirical"]
)
def test_every_model_answers_in_numbers(spc: Terminal, straightness: Path, model: str) -> None:
    answer = answer_of(spc, straightness, "--lower", 0, "--upper", 0.05, "--model", model)
    assert answer["model"] == model
    assert "cpk" not in answer
    assert isinstance(answer["fallout_ppm"], float)
    said = spc("capability", "--readings", straightness, "--upper", 0.05, "--model", model)
    assert said.code == 0
    assert said.out.splitlines()[-1].startswith("With 125 pieces Ppk is")
    assert "nan" not in said.out.lower()


def test_a_wearing_series_has_the_honest_interval_first(spc: Terminal, wearing: Path) -> None:
    asked = ("--lower", 9.8, "--upper", 10.4, "--minimum", 1.0)
    answer = answer_of(spc, wearing, *asked)
    assert answer["honest_first"] is True
    assert answer["words"] == "performance"
    assert answer["over_time"]["model"] == "C3"
    assert "a slope of" in answer["order"]
    assert answer["over_time"]["without_slope"]["ppk"]["estimate"] > answer["ppk"]["estimate"]
    assert answer["requirement"]["index"]["low"] == answer["honest"]["ppk"]["low"]
    table = spc("capability", "--readings", wearing, *asked).out
    assert table.startswith("Performance, in the unit of the file")
    assert "over time         C3, the level moves in a system (wear, drift, cycle)" in table
    (line,) = (line for line in table.splitlines() if line.startswith("Ppk  "))
    places = [line.index(f"{end['low']:.2f} to") for end in (answer["honest"]["ppk"], answer["ppk"])]
    assert places == sorted(places)
    assert table.splitlines()[-1].endswith("promised for the next ones: the process did not stand still.")


def test_a_steady_series_is_called_capability(spc: Terminal) -> None:
    said = spc("capability", "--readings", RINGS, "--lower", 73.95, "--upper", 74.05)
    assert said.out.startswith("Capability")
    assert "A1, level and spread stand still, and nothing here contradicts the normal shape" in said.out
    assert "Model: normal by convention for a size" in said.out


@pytest.mark.parametrize(
    ("minimum", "word"), [(1.33, "shown"), (1.5, "too few pieces to tell"), (2.0, "not shown")]
)
def test_a_requirement_is_answered_by_the_interval(spc: Terminal, minimum: float, word: str) -> None:
    asked = ("--lower", 73.95, "--upper", 74.05, "--minimum", minimum)
    answer = answer_of(spc, RINGS, *asked)["requirement"]
    assert answer["answer"] == word  # Cpk 1.63, 95 % interval 1.38 to 1.87
    assert answer["required"] == minimum
    assert answer["says"] in spc("capability", "--readings", RINGS, *asked).out.splitlines()


def test_a_few_checks_that_are_not_normal_have_no_honest_interval(spc: Terminal) -> None:
    file = in_order(spc, [[2.0, 3.1, 1.2, 4.0], [2.6, 3.3, 5.1, 1.9], [2.8, 0.9, 2.2, 3.0]])
    answer = answer_of(spc, file, "--upper", 10, "--kind", "runout")
    assert answer["honest"]["ppk"] is None
    assert answer["over_time"] is None
    said = spc("capability", "--readings", file, "--upper", 10, "--kind", "runout")
    assert said.code == 0
    assert said.out.splitlines()[-1].endswith("too few checks to show that it stands still.")


def test_too_few_pieces_promise_nothing_without_a_formula(spc: Terminal, straightness: Path) -> None:
    said = spc("capability", "--readings", straightness, "--upper", 0.05, "--model", "empirical")
    assert "none of 125 pieces; up to" in said.out  # 3/n and more: common practice, no source
    assert "at 95 % nothing may be promised" in said.out.splitlines()[-1]


@pytest.mark.parametrize("model", ["weibull", "lognormal"])
def test_a_fit_that_cannot_be_is_refused(spc: Terminal, model: str) -> None:
    file = in_order(spc, [[0.0, 3.1], [1.2, 4.0], [2.6, 3.3]])
    said = spc("capability", "--readings", file, "--upper", 10, "--model", model, "--json")
    assert (said.code, said.out) == (1, "")
    assert f"the {model} model".lower() in said.err.lower()
    assert len(said.err.splitlines()) == 1


def test_a_negative_straightness_is_refused(spc: Terminal) -> None:
    file = in_order(spc, [[-0.1, 3.1], [1.2, 4.0], [2.6, 3.3]])
    said = spc("capability", "--readings", file, "--upper", 10, "--kind", "straightness", "--json")
    assert (said.code, said.out) == (1, "")
    assert "-0.1" in said.err
