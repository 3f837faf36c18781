"""Every public function of the room against bad input: it answers in numbers or says why not, and never in between."""

import copy
import dataclasses
import inspect
import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any

import numpy as np
import pytest
from sound_calls import GOOD

import spc.statistics as room
from spc.errors import Refused
from spc.statistics import GaugeReading


def public() -> set[str]:
    """Every public name that can be called and is no record."""
    return {
        name
        for name in room.__all__
        if callable(getattr(room, name)) and not inspect.isclass(getattr(room, name))
    }


def test_no_public_function_is_left_out() -> None:
    assert set(GOOD) == public()


def is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def spots(value: object, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Way to one number of each argument, the third of every list; a whole number cannot be NaN or infinite."""
    if isinstance(value, float):
        yield path
    elif isinstance(value, Mapping):
        key = next(iter(value))
        yield from spots(value[key], (*path, key))
    elif isinstance(value, list | tuple) and value:
        for place in range(len(value)) if isinstance(value, tuple) else [min(2, len(value) - 1)]:
            yield from spots(value[place], (*path, place))


def put(value: Any, path: tuple[Any, ...], new: object) -> Any:
    """Return a copy of the argument with another number at that place."""
    if not path:
        return new
    changed = put(value[path[0]], path[1:], new)
    if isinstance(value, tuple):
        return (*value[: path[0]], changed, *value[path[0] + 1 :])
    copied = copy.copy(value)
    copied[path[0]] = changed
    return copied


def with_bad_numbers() -> Iterator[Any]:
    for name, arguments in GOOD.items():
        for argument, value in arguments.items():
            for path in spots(value):
                for bad in (math.nan, math.inf, -math.inf):
                    place = "".join(f"[{each}]" for each in path)
                    yield pytest.param(name, argument, path, bad, id=f"{name}-{argument}{place}-{bad}")


def call(name: str, arguments: Mapping[str, Any]) -> Any:
    function: Callable[..., Any] = getattr(room, name)
    return function(**arguments)


def numbers(found: Any) -> Iterator[float]:
    """Every number of an answer, however deep."""
    if is_number(found) or isinstance(found, np.floating):
        yield float(found)
    elif isinstance(found, np.ndarray):
        yield from found.ravel().tolist() if found.dtype.kind == "f" else ()
    elif dataclasses.is_dataclass(found) and not isinstance(found, type):
        for field in dataclasses.fields(found):
            yield from numbers(getattr(found, field.name))
    elif isinstance(found, Mapping):
        for value in found.values():
            yield from numbers(value)
    elif isinstance(found, list | tuple):
        for value in found:
            yield from numbers(value)


def sigmas(found: Any) -> Iterator[tuple[str, float]]:
    """Every standard deviation that an answer divides by."""
    if dataclasses.is_dataclass(found) and not isinstance(found, type):
        for field in dataclasses.fields(found):
            value = getattr(found, field.name)
            if field.name in ("sigma", "sigma_within", "sigma_overall", "sigma_total") and is_number(value):
                counted = (
                    getattr(found, "df_within", 1) > 0
                )  # a spread nobody could see is given as 0 from 0 degrees
                yield from [(field.name, value)] if counted else []
            yield from sigmas(value)


@pytest.mark.parametrize("name", sorted(GOOD))
def test_the_sound_call_answers_in_numbers(name: str) -> None:
    found = call(name, GOOD[name])
    assert not any(math.isnan(value) for value in numbers(found))
    assert all(value > 0.0 for _, value in sigmas(found))


@pytest.mark.parametrize(("name", "argument", "path", "bad"), list(with_bad_numbers()))
def test_a_number_that_is_none_is_refused(
    name: str, argument: str, path: tuple[Any, ...], bad: float
) -> None:
    arguments = {**GOOD[name], argument: put(GOOD[name][argument], path, bad)}
    with pytest.raises(Refused) as refused:
        call(name, arguments)
    for refusal in refused.value.refusals:
        assert refusal.reason
        assert refusal.allowed or refusal.do, "a refusal names the smallest change that helps"


def sequences() -> Iterator[Any]:
    for name, arguments in GOOD.items():
        for argument, value in arguments.items():
            if isinstance(value, list | dict):
                yield pytest.param(name, argument, id=f"{name}-{argument}")


def refused_or_sound(name: str, arguments: Mapping[str, Any]) -> None:
    """Either a refusal, or an answer without a number that is none and without a spread of zero."""
    found: Any = None
    try:
        found = call(name, arguments)
    except Refused as refused:
        found = refused
    if isinstance(found, Refused):
        assert all(each.allowed or each.do for each in found.refusals), str(found)
        return
    assert not any(math.isnan(value) for value in numbers(found))
    assert all(value > 0.0 for _, value in sigmas(found))


@pytest.mark.parametrize(("name", "argument"), list(sequences()))
def test_an_empty_list_is_refused_or_answered(name: str, argument: str) -> None:
    refused_or_sound(name, {**GOOD[name], argument: type(GOOD[name][argument])()})


@pytest.mark.parametrize(("name", "argument"), list(sequences()))
def test_one_entry_is_refused_or_answered(name: str, argument: str) -> None:
    value = GOOD[name][argument]
    one = dict([next(iter(value.items()))]) if isinstance(value, dict) else value[:1]
    refused_or_sound(name, {**GOOD[name], argument: one})


def flattened(value: Any) -> Any:
    """Return the same nest with every number 7."""
    if is_number(value):
        return 7.0
    if isinstance(value, GaugeReading):
        return dataclasses.replace(value, value=7.0)
    if isinstance(value, dict):
        return {key: flattened(each) for key, each in value.items()}
    return [flattened(each) for each in value] if isinstance(value, list) else value


@pytest.mark.parametrize(("name", "argument"), list(sequences()))
def test_readings_that_are_all_equal_are_refused_or_answered(name: str, argument: str) -> None:
    refused_or_sound(name, {**GOOD[name], argument: flattened(GOOD[name][argument])})


def singled(value: Any) -> Any:
    """Return checks of one piece each."""
    if isinstance(value, dict):
        return {key: singled(each) for key, each in value.items()}
    if isinstance(value, list) and value and isinstance(value[0], list) and is_number(value[0][0]):
        return [check[:1] for check in value]
    return [singled(each) for each in value] if isinstance(value, list) else value


@pytest.mark.parametrize(("name", "argument"), list(sequences()))
def test_single_pieces_are_refused_or_answered(name: str, argument: str) -> None:
    refused_or_sound(name, {**GOOD[name], argument: singled(GOOD[name][argument])})


def scalars() -> Iterator[Any]:
    for name, arguments in GOOD.items():
        for argument, value in arguments.items():
            if is_number(value) and argument != "seed":
                for bad in (0 if isinstance(value, int) else 0.0, -value, 1_000 * value):
                    yield pytest.param(name, argument, bad, id=f"{name}-{argument}-{bad}")


@pytest.mark.parametrize(("name", "argument", "bad"), list(scalars()))
def test_a_setting_out_of_range_is_refused_or_answered(name: str, argument: str, bad: float) -> None:
    if (
        name in ("bootstrap_checks", "honest_percentiles", "level_change", "spread_change")
        and argument == "draws"
    ):
        bad = min(bad, 300)  # more draws only take longer
    refused_or_sound(name, {**GOOD[name], argument: bad})
