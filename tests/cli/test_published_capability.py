"""`spc capability --json` key by key against published indices, at half a unit of the last digit printed.

Where a book gives mean, standard deviation and n only, a file is made that has exactly these.
"""

from pathlib import Path

import pytest
from published_files import LAYOUTS, file_of, rings, written_as
from scipy import stats
from terminal import GEARS, RINGS, Terminal

INDICES = ("cp", "cpk", "pp", "ppk", "cpm")


def capability(spc: Terminal, file: Path, *more: object) -> dict:
    said = spc("capability", "--readings", file, "--json", *more)
    assert said.code == 0, said.err
    assert "NaN" not in said.out
    assert "Infinity" not in said.out
    return said.json


def having(folder: Path, mean: float, sd: float, n: int) -> Path:
    """Single pieces with this mean and standard deviation, to the last bits."""
    scores = [float(stats.norm.ppf((place + 0.5) / n)) for place in range(n)]
    scores = scores[::2] + scores[1::2][::-1]
    size = (sum(each * each for each in scores) / (n - 1)) ** 0.5
    file = folder / "having.csv"
    file.write_text("\n".join(repr(mean + sd * each / size) for each in scores), encoding="utf-8")
    return file


OF_SUMMARIES = [
    # NIST section 6.1.6 (from memory): mean 16, s 2, limits 8 and 20; Cpm with target 14 computed
    (16, 2, 50, 8, 20, {"pp": "1.0", "ppk": "0.6667", "cpm": "0.707107"}),
    # Montgomery, SQC, two processes of one Cpk (from memory): 35 to 65, target 50
    (50, 5, 30, 35, 65, {"pp": "1.0", "ppk": "1.0", "cpm": "1.0"}),
    (57.5, 2.5, 30, 35, 65, {"pp": "2.0", "ppk": "1.0", "cpm": "0.632456"}),
    # Montgomery, SQC, Example 8.5 (from memory): limits 38 and 62, s 1.75
    (50, 1.75, 20, 38, 62, {"pp": "2.285714"}),
]


@pytest.mark.parametrize(("mean", "sd", "n", "lower", "upper", "printed"), OF_SUMMARIES)
def test_indices_of_published_summaries(
    spc: Terminal, mean: float, sd: float, n: int, lower: float, upper: float, printed: dict
) -> None:
    answer = capability(spc, having(spc.folder, mean, sd, n), "--lower", lower, "--upper", upper)
    for name, value in printed.items():
        digit = 0.5000001 * 10.0 ** -len(value.partition(".")[2])
        # Cpm of the books takes s of n - 1; the interval's Boyles form is tested in tests/statistics
        assert answer[name]["estimate"] == pytest.approx(float(value), abs=digit), name


INTERVALS = [
    # Montgomery, SQC, Example 8.5: 1.57 to 3.01 in print, computed 1.564945 and 3.005579 (chi-square)
    (50, 1.75, 20, 38, 62, "pp", "1.564945", "3.005579"),
    # Cp 1.33, 95 %, computed for n 20, 50, 125 (chi-square)
    (0, 1, 20, -3.99, 3.99, "pp", "0.9106", "1.7489"),
    (0, 1, 50, -3.99, 3.99, "pp", "1.0673", "1.5922"),
    (0, 1, 125, -3.99, 3.99, "pp", "1.1646", "1.4952"),
    # Quality Digest, May 2000 (opened): n 45, Cpk 1.15: 0.89 to 1.41; computed 0.8907 and 1.4093 (Bissell)
    (0, 1, 45, -3.45, 9, "ppk", "0.8907", "1.4093"),
    # Cpk 1.33, Bissell, computed for n 20, 50, 100
    (0, 1, 20, -3.99, 9, "ppk", "0.8826", "1.7774"),
    (0, 1, 50, -3.99, 9, "ppk", "1.0509", "1.6091"),
    (0, 1, 100, -3.99, 9, "ppk", "1.1336", "1.5264"),
    # Cpm, Boyles, computed: n 50, m 16, s 2, T 14: see test below for s by n
]


@pytest.mark.parametrize(("mean", "sd", "n", "lower", "upper", "name", "low", "high"), INTERVALS)
def test_intervals_of_published_summaries(
    spc: Terminal, mean: float, sd: float, n: int, lower: float, upper: float, name: str, low: str, high: str
) -> None:
    answer = capability(spc, having(spc.folder, mean, sd, n), "--lower", lower, "--upper", upper)[name]
    for end, printed in (("low", low), ("high", high)):
        digit = 0.5000001 * 10.0 ** -len(printed.partition(".")[2])
        assert answer[end] == pytest.approx(float(printed), abs=digit), end


def test_one_limit_has_the_exact_bound(spc: Terminal) -> None:
    """Cpu 1.33, one-sided 95 % bounds by the noncentral t, computed: 0.9487, 1.0931, 1.1637 for n 20, 50, 100."""
    for n, bound in ((20, 0.9487), (50, 1.0931), (100, 1.1637)):
        answer = capability(spc, having(spc.folder, 0, 1, n), "--upper", 3.99, "--confidence", 0.9)
        assert answer["ppk"]["low"] == pytest.approx(bound, abs=5.1e-5)
        assert (answer["pp"], answer["cp"], answer["cpm"]) == (None, None, None)


FALLOUT = [
    (0.50, 66807.2),
    (0.67, 22215.6),
    (1.00, 1349.898),
    (1.20, 159.109),
    (1.33, 33.0366),
    (1.50, 3.39767),
]


@pytest.mark.parametrize(("index", "ppm"), FALLOUT)
def test_fallout_beyond_one_limit(spc: Terminal, index: float, ppm: float) -> None:
    """Standard probability, computed; half a unit of the last digit given."""
    answer = capability(spc, having(spc.folder, 0, 1, 40), "--upper", 3 * index)
    assert answer["fallout_ppm"] == pytest.approx(ppm, rel=3e-6)


NORMALITY = [
    ("gears", 1.457952, 0.000864),
    ("viscosity", 0.247412, 0.703858),
    ("chemical", 0.398356, 0.333317),
    ("rings", 0.193332, 0.892229),
]


@pytest.mark.parametrize(("data", "statistic", "p"), NORMALITY)
def test_anderson_darling_of_published_data(spc: Terminal, data: str, statistic: float, p: float) -> None:
    """D'Agostino & Stephens 1986, Tables 4.7 and 4.9; computed by a second program."""
    found = capability(spc, file_of(spc.folder, data), "--upper", 200)["normality"]
    assert list(found) == ["anderson_darling", "p"]
    assert found["anderson_darling"] == pytest.approx(statistic, abs=5.1e-7)
    assert found["p"] == pytest.approx(p, abs=5.1e-7)


SPREADS = [
    # decimals of the file give 0.01019888 and 0.00627890; pages with 0.0101990 and 0.6278908E-02 slip in the last
    ("rings", "sigma_overall", "0.010199"),
    ("gears", "sigma_overall", "0.0062789"),
    ("viscosity", "sigma_overall", "0.335552"),
    ("viscosity", "sigma_within", "0.426022"),
    ("chemical", "sigma_overall", "1.976034"),
    ("chemical", "sigma_within", "2.294861"),
    ("moisture", "sigma_overall", "0.419656"),
    ("flow", "sigma_overall", "2.033852"),
    ("particles", "mean", "53.7"),  # NIST section 7.2.2
    ("particles", "sigma_overall", "6.566751"),
    ("numacc1", "sigma_overall", "1.0"),  # certified, exact
    ("numacc1", "mean", "10000002.0"),
]


@pytest.mark.parametrize(("data", "key", "printed"), SPREADS)
def test_means_and_spreads_of_published_data(spc: Terminal, data: str, key: str, printed: str) -> None:
    answer = capability(spc, file_of(spc.folder, data), "--upper", 20000000)
    digit = 0.5000001 * 10.0 ** -len(printed.partition(".")[2])
    assert answer[key] == pytest.approx(float(printed), abs=digit)


def test_mavro_to_twelve_digits(spc: Terminal) -> None:
    """NIST StRD: certified mean 2.001856 and standard deviation 0.000429123454003053."""
    answer = capability(spc, file_of(spc.folder, "mavro"), "--upper", 3)
    assert answer["mean"] == pytest.approx(2.001856, rel=1e-14)
    assert answer["sigma_overall"] == pytest.approx(0.000429123454003053, rel=1e-12)
    assert answer["honest_first"]  # certified lag-1 autocorrelation 0.938


def test_rings_by_pooled_spread_and_by_ranges(spc: Terminal) -> None:
    asked = ("--lower", 73.95, "--upper", 74.05)
    ranges, pooled = (
        capability(spc, RINGS, *asked),
        capability(spc, RINGS, *asked, "--sigma-from", "pooled_s"),
    )
    assert ranges["sigma_within"] == pytest.approx(0.0099917, abs=5.1e-8)
    assert pooled["sigma_within"] == pytest.approx(
        0.01002577, abs=5.1e-9
    )  # by decimals; a page with 0.0100262 slips
    for answer in (ranges, pooled):
        assert answer["cp"]["estimate"] == pytest.approx(0.1 / 6 / answer["sigma_within"], rel=1e-12)
        assert answer["pp"]["estimate"] == pytest.approx(0.1 / 6 / 0.01019888, rel=1e-6)
        quantiles = answer["quantiles"]
        assert quantiles["q50"] == pytest.approx(74.001176, abs=5.1e-7)
        assert quantiles["q99865"] - quantiles["q50"] == pytest.approx(3 * 0.01019888, rel=1e-5)


@pytest.mark.parametrize(
    "model", ["half_normal", "folded_normal", "rayleigh", "weibull", "lognormal", "empirical"]
)
def test_a_model_that_is_not_normal_has_no_cp(spc: Terminal, model: str) -> None:
    answer = capability(spc, GEARS, "--lower", 0.97, "--upper", 1.03, "--model", model)
    assert not {"cp", "cpk"} & set(answer)
    assert answer["model"] == model
    assert list(answer["ppk"]) == ["estimate", "low", "high"]
    quantiles = answer["quantiles"]
    index = (1.03 - quantiles["q50"]) / (quantiles["q99865"] - quantiles["q50"])
    if model in ("lognormal", "empirical", "weibull", "folded_normal"):
        both = (index, (quantiles["q50"] - 0.97) / (quantiles["q50"] - quantiles["q00135"]))
        assert answer["ppk"]["estimate"] == pytest.approx(min(both) if answer["pp"] else index, rel=1e-9)


def test_every_key_of_the_contract(spc: Terminal) -> None:
    answer = capability(spc, RINGS, "--lower", 73.95, "--upper", 74.05)
    assert [isinstance(answer[name], int) for name in ("n", "subgroups")] == [True, True]
    for name in ("mean", "sigma_within", "sigma_overall", "fallout_ppm"):
        assert isinstance(answer[name], float)
    for name in INDICES:
        assert list(answer[name]) == ["estimate", "low", "high"]
        assert all(isinstance(each, float) for each in answer[name].values())
    assert {"pp", "ppk", "method"} <= set(answer["honest"])
    assert answer["warning"] is None or isinstance(answer["warning"], str)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_gives_one_answer(spc: Terminal, layout: str) -> None:
    asked = ("--lower", 73.95, "--upper", 74.05)
    file = written_as(spc.folder / "rings.csv", layout, rings())
    assert capability(spc, file, *asked) == capability(spc, RINGS, *asked)
