"""Amounts that a class is planned with, each read from plain text: people, shares, volumes, energy, money."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from lessonkit.lesson.fields import NUMBER_OR_TEXT, Reader, described, wrong

MOST_PEOPLE = 999
_AMOUNT = r"(?P<number>\d{1,7}(?:[.,]\d{1,4})?)"


@dataclass(frozen=True, slots=True)
class Money:
    """An amount, with the mark of its currency as she wrote it, which may be empty."""

    amount: float
    mark: str

    def shown(self, amount: float) -> str:
        """Another amount of the same currency, to the hundredth."""
        return f"{self.mark} {amount:.2f}".strip() if self.mark.isalpha() else f"{self.mark}{amount:.2f}"


def _reads(parse: Callable[[str], Any], expected: str, hint: str, schema: dict[str, Any] = NUMBER_OR_TEXT) -> Reader:
    """A reader of one text; `parse` gives None for what it cannot read."""

    def read(value: Any) -> Any:
        found = parse(value) if isinstance(value, str) else None
        if found is None:
            raise wrong(f"expected {expected}, found {described(value)}.", hint)
        return found

    return Reader(read, schema)


def _people(text: str) -> int | None:
    return int(text) if re.fullmatch(r"\d{1,3}", text.strip()) and int(text) else None


def _learners(text: str) -> int | None:
    return int(text) if re.fullmatch(r"\d{1,3}", text.strip()) else None


def _some(text: str) -> int | None:
    return int(text) if re.fullmatch(r"\d{1,6}", text.strip()) and int(text) else None


def _share(text: str) -> float | None:
    found = re.fullmatch(rf"\s*{_AMOUNT}\s*(?:%|per cent|percent)?\s*", text)
    percent = float(found["number"].replace(",", ".")) if found else 100.0
    return percent / 100 if percent == 0 or 1 <= percent < 100 else None  # 0.10 was meant as 10 %


def _scaled(units: dict[str, float]) -> Callable[[str], float | None]:
    def parse(text: str) -> float | None:
        found = re.fullmatch(rf"\s*{_AMOUNT}\s*(?P<unit>[A-Za-z]+)\s*", text)
        unit = units.get(found["unit"].casefold()) if found else None
        amount = float(found["number"].replace(",", ".")) if found else 0.0
        return amount * unit if unit and amount > 0 else None

    return parse


def _money(text: str) -> Money | None:
    found = re.fullmatch(rf"\s*(?P<before>[^\d\s.,-]{{0,4}})\s*{_AMOUNT}\s*(?P<after>[^\d\s.,-]{{0,4}})\s*", text)
    if not found or (found["before"] and found["after"]):
        return None
    return Money(float(found["number"].replace(",", ".")), found["before"] or found["after"])


_STRING = {"type": "string"}
_LITRES = {"ml": 1.0, "cl": 10.0, "dl": 100.0, "l": 1000.0} | dict.fromkeys(("litre", "litres", "liter", "liters"), 1000.0)

_WHOLE_PEOPLE = _reads(_people, f"a number of people, 1 to {MOST_PEOPLE}", "People come whole, and a class has 1 or more: write such as 24.")
_PINT = "Write such as 40 ml. A pint is 473 ml in the US and 568 ml in the UK: write the ml."
_METER = "Read the meter before and after, and write such as 42 kWh."

People = Annotated[int, _WHOLE_PEOPLE]
Learners = Annotated[int, _reads(_learners, "how many learners", "People come whole: write such as 13, or 0 for none.")]
Some = Annotated[int, _reads(_some, "a whole number of 1 or more", "Write such as 6, without a unit.")]
Share = Annotated[float, _reads(_share, "a share below 100 %", "Write such as 10 %, or 0 %.")]
Volume = Annotated[float, _reads(_scaled(_LITRES), "a volume in ml or l", _PINT, _STRING)]
Energy = Annotated[float, _reads(_scaled({"kwh": 1.0}), "the energy of a firing", _METER, _STRING)]
Price = Annotated[Money, _reads(_money, "a price", "Write such as $28, 28.50 or 28 EUR.")]
