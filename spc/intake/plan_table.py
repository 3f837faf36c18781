"""One table of a plan, read key by key; what is wrong is collected, not raised."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from spc.errors import Refusal
from spc.intake.nearest import listed, nearest
from spc.intake.plan_keys import ALLOWED
from spc.intake.plan_lines import PlanLines

__all__ = ["Book", "Table"]


@dataclass(slots=True)
class Book:
    """The plan being read: its name, its lines, and the refusals so far."""

    file: str
    lines: PlanLines
    refusals: list[Refusal] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the plan; `name` is its place in `plan_keys.ALLOWED`, `path` its place in the text."""

    book: Book
    name: str
    path: tuple[str | int, ...]
    values: Mapping[str, Any]

    def refuse(self, key: str, reason: str, allowed: str = "", do: str = "") -> None:
        """Collect one refusal about a key of this table."""
        value = self.values.get(key)
        line = self.book.lines.of((*self.path, key))
        shown = "" if value is None or isinstance(value, dict) else _shown(value)
        column = ".".join([*(str(each) for each in self.path if isinstance(each, str)), key])
        self.book.refusals.append(Refusal(reason, shown, self.book.file, line, column, allowed, do))

    def refuse_unknown_keys(self) -> None:
        """Collect every key that this table does not have."""
        allowed = ALLOWED[self.name]
        where = f"[{self.name}]" if self.name else "a plan"
        for key in self.values:
            if key not in allowed:
                self.refuse(key, f"{where} has no key {key!r}", listed(allowed), nearest(key, allowed))

    def text(self, key: str, default: str = "", *, needed: bool = False) -> str:
        """Return a text; refuse other types, and its absence where it is needed."""
        value = self.values.get(key)
        if isinstance(value, str) and (value.strip() or not needed):
            return value.strip()
        if value is not None or needed:
            self.refuse(key, "a text is needed here", 'text in quotation marks, such as "R1"')
        return default

    def word(self, key: str, allowed: Sequence[str], default: str) -> str:
        """Return one of a closed set of words."""
        value = self.text(key, default)
        if value in allowed or not isinstance(self.values.get(key), str):
            return value
        self.refuse(key, f"{key} does not know this word", listed(allowed), nearest(value, allowed))
        return default

    def words(self, key: str, allowed: Sequence[str] = ()) -> tuple[str, ...]:
        """Return a list of different texts; one text counts as a list of one; () where there is none."""
        value = self.values.get(key)
        every = [value] if isinstance(value, str) else value
        if every is None:
            return ()
        if not isinstance(every, list) or not all(isinstance(each, str) and each.strip() for each in every):
            self.refuse(key, "a list of texts is needed here", '["…", "…"]')
            return ()
        texts = tuple(each.strip() for each in every)
        unknown = [each for each in texts if allowed and each not in allowed]
        if unknown:
            self.refuse(
                key, f"{key} does not know {unknown[0]!r}", listed(allowed), nearest(unknown[0], allowed)
            )
        if len(set(texts)) < len(texts):
            self.refuse(key, "a word stands here twice", "each word once")
        return texts

    def number(
        self, key: str, default: Decimal | None = None, *, above: Decimal | int | None = None
    ) -> Decimal | None:
        """Return a finite number, strictly above `above` where that is given."""
        value = self.values.get(key)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            self.refuse(key, "a number is needed here", "a number without quotation marks, such as 31.250")
            return default
        if not Decimal(value).is_finite():
            self.refuse(key, "this stands for no number", "a finite number")
            return default
        if above is not None and value <= above:
            self.refuse(key, f"{key} must be above {above}", f"a number above {above}")
            return default
        return Decimal(value)

    def real(self, key: str, default: float | None = None, *, above: int | None = None) -> float | None:
        """Return a number as float, for what is a first guess or a share, not a size."""
        value = self.number(key, above=above)
        return default if value is None else float(value)

    def whole(self, key: str, default: int | None = None) -> int | None:
        """Return a count of at least 1."""
        value = self.values.get(key)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int) or value < 1:
            self.refuse(key, "a count is needed here", "a whole number of at least 1")
            return default
        return value

    def flag(self, key: str, *, default: bool) -> bool:
        """Return true or false."""
        value = self.values.get(key)
        if value is not None and not isinstance(value, bool):
            self.refuse(key, "true or false is needed here", "true, false")
            return default
        return default if value is None else value

    def below(self, key: str, name: str) -> "Table":
        """Return a table inside this one; an empty one, with a refusal, where it is something else."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            self.refuse(key, f"{key} is a table", f"a line [{name}] and its keys below it")
            value = {}
        return Table(self.book, name, (*self.path, key), value)

    def each(self, key: str) -> list["Table"]:
        """Return the tables of an array of tables."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(entry, dict) for entry in value):
            self.refuse(key, f"{key} is a list of tables", f"[[{key}]] with two brackets, once for each")
            return []
        return [Table(self.book, key, (*self.path, key, place), entry) for place, entry in enumerate(value)]


def _shown(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)
