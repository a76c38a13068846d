"""How much to order: spares, losses, waste, balls from a bag, bags. Grams and whole numbers.

Rules of the trade, no source: spares are a tenth of the group and at least two; a twentieth of the work is lost before it
is finished; what is left of a bag makes no ball, unless the leftovers are kneaded together (pooled).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from lessonkit.planning.counting import down, need_amount, need_people, up
from lessonkit.planning.faults import PlanError

SPARE_SHARE, LEAST_SPARES, LOST_SHARE, WASTE_SHARE = 0.10, 2, 0.05, 0.05


def spares(people: float, share: float = SPARE_SHARE, least: int = LEAST_SPARES) -> int:
    """Balls of clay beyond one each, for what goes wrong in class: for 28 people 3. PlanError for 0 people, or a part of one."""
    return max(least, up(need_people(people) * _share(share)))


def remakes(people: float, lost: float = LOST_SHARE) -> int:
    """Pieces that will crack, break or burst and be made again: of 28, 2. PlanError for 0 people, or a part of one."""
    return up(need_people(people) * _share(lost))


def with_waste(needed_g: float, share: float = WASTE_SHARE, counted: Literal["on top", "of bought"] = "on top") -> float:
    """Clay to buy so that `needed_g` is left of it when `share` stays on mats, hands and sponges.

    The share is counted on top of what is needed, or of what is bought, which is more: a quarter on top of 8.957 kg is
    11.196 kg, a quarter of what is bought 11.942 kg.
    """
    return needed_g / (1 - _share(share)) if counted == "of bought" else needed_g * (1 + _share(share))


def _share(share: float) -> float:
    if not 0 <= share < 1:
        raise PlanError(f"a share of {share * 100:g} % cannot be reckoned with.", "Write a share from 0 % to below 100 %.")
    return share


def balls_in_bag(ball_g: float, bag_g: float) -> int:
    """Whole balls from one bag: 15 of 747 g from 11.34 kg. 0 where a ball is heavier than a bag."""
    return down(need_amount(bag_g, "the weight of a bag") / need_amount(ball_g, "the weight of a ball"))


def bags_for(balls: Iterable[tuple[int, float]], bag_g: float, pooled: bool = False) -> int:
    """Bags for so many balls of each weight: 3 for 15 balls of 1.5 kg from bags of 11.34 kg, 2 if pooled.

    Balls of several weights are cut from the bags heaviest first, each from the first bag that still has enough. A ball
    heavier than a bag has to be kneaded from several, so then all are pooled.
    """
    wanted = sorted(((g, count) for count, g in balls if count), reverse=True)
    need_amount(bag_g, "the weight of a bag")
    if pooled or any(not balls_in_bag(g, bag_g) for g, _ in wanted):
        return up(sum(count * g for g, count in wanted) / bag_g)
    left: list[float] = []
    for g, count in wanted:
        for index, rest in enumerate(left):
            here = min(count, down(rest / g))
            left[index], count = rest - here * g, count - here
        while count:
            here = min(count, balls_in_bag(g, bag_g))
            left.append(bag_g - here * g)
            count -= here
    return len(left)


class Order(NamedTuple):
    """An order by weight alone, as for a year: what it weighs and the bags it comes in."""

    weight_g: float
    bags: int
    assumptions: tuple[str, ...]


def order_by_weight(balls: Iterable[tuple[float, float]], bag_g: float, spare: float = 0.0, reclaimed: float = 0.0) -> Order:
    """Clay for so many balls of each weight and a spare share, less the share that is reclaimed and used again. All is pooled, as reclaimed
    clay is kneaded anyway.

    26 of half a pound and a tenth are 14.3 lb, one bag of 25 lb; 120 people in 24 projects at 0.55 kg and a tenth 1,742 kg, 154 bags, or 116
    if a quarter is reclaimed. PlanError for 0 people, a part of one, or a weight of 0.
    """
    wanted = [(need_people(count), need_amount(g, "the weight of a ball")) for count, g in balls]
    weight = sum(count * g for count, g in wanted) * (1 + _share(spare)) * (1 - _share(reclaimed))
    said = ["by weight: what is left of a bag is pooled"]
    said += [f"{spare * 100:g} % spare"] if spare else []
    said += [f"{reclaimed * 100:g} % of the clay is reclaimed and used again"] if reclaimed else []
    return Order(weight, up(weight / need_amount(bag_g, "the weight of a bag")), tuple(said))
