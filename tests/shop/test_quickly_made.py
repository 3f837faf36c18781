"""Records made and changed quickly, against the standard library's own dataclass of the same fields."""

import copy
import pickle
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, replace

import pytest

from spc.shop.changed import changed
from spc.shop.quickly_made import CHANGERS, quickly_made


@quickly_made
@dataclass(frozen=True, slots=True)
class Said:
    """Names that the written functions might use themselves, a default and a factory."""

    kind: str
    record: int = 3
    new: tuple[int, ...] = ()
    twin: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Plain:
    """The same, as the standard library makes it."""

    kind: str
    record: int = 3
    new: tuple[int, ...] = ()
    twin: dict[str, int] = field(default_factory=dict)


def test_it_holds_what_a_plain_dataclass_would() -> None:
    for quick, plain in (
        (Said("a"), Plain("a")),
        (Said("a", 4, twin={"b": 2}), Plain("a", 4, twin={"b": 2})),
        (Said(kind="a", new=(1,)), Plain(kind="a", new=(1,))),
    ):
        assert asdict(quick) == asdict(plain)
        assert repr(quick) == repr(plain).replace("Plain", "Said")
        assert type(quick) is Said


def test_it_stays_frozen_and_keeps_its_factories_apart() -> None:
    one, other = Said("a"), Said("a")
    assert one == other
    assert one.twin is not other.twin
    with pytest.raises(FrozenInstanceError):
        one.record = 5  # type: ignore[misc]  # the refusal is what is tested
    with pytest.raises(FrozenInstanceError):
        del one.record
    with pytest.raises(TypeError):
        Said()  # type: ignore[call-arg]  # the refusal is what is tested


def test_a_changed_record_is_what_replace_gives_and_the_old_one_stays() -> None:
    before = Said("a", 4, (1, 2), {"b": 2})
    for changes in ({}, {"kind": "c"}, {"record": 5, "twin": {}}, {"new": None}):
        now = changed(before, **changes)
        assert now == replace(before, **changes)
        assert type(now) is Said
    assert before == Said("a", 4, (1, 2), {"b": 2})
    with pytest.raises(TypeError):
        changed(before, colour="red")


def test_it_can_be_copied_and_sent_elsewhere() -> None:
    before = Said("a", 4, (1, 2), {"b": 2})
    for after in (copy.copy(before), copy.deepcopy(before), pickle.loads(pickle.dumps(before))):
        assert after == before
        assert type(after) is Said


def test_a_kind_that_works_fields_out_or_has_heirs_is_refused() -> None:
    @dataclass(frozen=True, slots=True)
    class WorksOut:
        um: float

        def __post_init__(self) -> None: ...

    @dataclass(frozen=True, slots=True)
    class Heir(Said):
        more: int = 0

    for kind in (WorksOut, Heir, dataclass(frozen=True)(type("NoSlots", (), {}))):
        with pytest.raises(TypeError):
            quickly_made(kind)


def test_every_kind_in_use_can_be_changed_field_by_field() -> None:
    for kind, changer in CHANGERS.items():
        values = {each.name: object() for each in fields(kind)}
        record = kind(**values)
        for name in values:
            other = changer(record, **{name: None})
            assert {each.name: getattr(other, each.name) for each in fields(kind)} == values | {name: None}
