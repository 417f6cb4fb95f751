"""The weight that stored roots lose: water drawn out by the dryness of the air, and carbon breathed away.

Published for a good store (55 to 60 °F, 85 %) are 1 to 2 % a month when cured and 2 to 5 % when not (North Carolina
SweetPotato Commission; read). Other air is reckoned from there: water in proportion to the deficit of vapour, carbon
by the temperature. Below the chilling limit nothing is told: in a trial of six months roots lost less at 15 °C than
at 5 °C, where the air draws less (Krochmal-Marczak and others 2020, abstract; read). Temperatures are in °F.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from assistant.model.quantities import celsius
from assistant.reckoning.chilling import MILD_COLD
from assistant.reckoning.moist_air import Air
from assistant.reckoning.ranges import Range
from assistant.reckoning.spells import Spell

CHILLING_LIMIT = MILD_COLD
"""°F below which weight is not told; between 50 and 55 °F sources differ over harm, and it is."""
MONTH = 30.0
"""Days in the month of the published rates."""
GOOD_STORE = Air(58.0, 85.0)
"""The middle of the air for which the rates are published."""
UNKNOWN_HUMIDITY = (95.0, 85.0, 75.0)
"""Percent, for the low, likely and high loss, where nobody measured it: the span of published advice."""
RESPIRED_CARBON = 12.011 / 44.009
"""Share of the carbon dioxide given off that is carbon of the root, by the masses of the atoms."""
WARMTH_FACTOR = 2.2
"""Times as much breath for 10 °C more: from 29 mg to 54 to 73 between 15 and 25 °C, uncured (ASHRAE's table, from
memory; our arithmetic)."""


class Cure(str, Enum):
    """How well the roots were cured before they were stored."""

    FULL = "full"
    SHORT = "short"
    NONE = "none"


MONTHLY: Mapping[Cure, Range] = {
    Cure.FULL: Range(0.01, 0.015, 0.02),
    Cure.SHORT: Range(0.01, 0.02, 0.05),
    Cure.NONE: Range(0.02, 0.035, 0.05),
}
"""Share of the weight lost in a month in a good store. The middle, and that a short cure lies between, is our own."""
BREATH: Mapping[Cure, Range] = {
    Cure.FULL: Range(16, 19, 22),
    Cure.SHORT: Range(16, 22, 29),
    Cure.NONE: Range(29, 29, 29),
}
"""Carbon dioxide in mg per kg and hour at 15 °C (ASHRAE's table of respiration, from memory; our arithmetic)."""


def water_loss(coefficient: float, deficit: float) -> float:
    """The share of its weight a root loses in a day: coefficient in ng/(kg s Pa), vapour deficit in kPa."""
    return coefficient * 1e-12 * deficit * 1000 * 86_400


def carbon_loss(carbon_dioxide: float) -> float:
    """The share of its weight a root breathes away in a day, by mg of carbon dioxide per kg and hour."""
    return RESPIRED_CARBON * carbon_dioxide * 24e-6


def weight_after(pounds: float, months: float, cure: Cure) -> Range:
    """What so much weighs after some months in a good store, at the published rates, compounded."""
    low, likely, high = ((1 - rate) ** months for rate in MONTHLY[cure])
    return Range(high, likely, low).times(pounds)


@lru_cache
def coefficients(cure: Cure) -> Range:
    """The transpiration coefficients, ng/(kg s Pa), by which a good store comes to its published rates.

    No handbook lists this crop; potatoes have 25 (ASHRAE, from memory).
    """
    unit = water_loss(1.0, GOOD_STORE.deficit)
    ends = zip(MONTHLY[cure], BREATH[cure], strict=True)
    breath_there = _breath(1.0, GOOD_STORE.temperature)
    return Range(*((_daily(rate) - carbon_loss(breath * breath_there)) / unit for rate, breath in ends))


def daily_loss(air: Air, cure: Cure, humidities: tuple[float, float, float] | None = None) -> Range | None:
    """The share of its weight a root loses in a day in this air; None below the chilling limit.

    `humidities`, for the low, likely and high loss, stand in for the air's own where that is not known.
    """
    if air.temperature < CHILLING_LIMIT:
        return None
    ends = zip(humidities or (air.humidity,) * 3, coefficients(cure), BREATH[cure], strict=True)
    return Range(
        *(
            water_loss(coefficient, Air(air.temperature, humidity).deficit)
            + carbon_loss(_breath(breath, air.temperature))
            for humidity, coefficient, breath in ends
        )
    )


class Loss(NamedTuple):
    """The share of the weight that is left, and from when on nothing is told because of cold; None when all is."""

    left: Range
    untold_from: datetime | None = None


def loss_over(spells: Iterable[Spell], cure: Cure) -> Loss:
    """What is left after these spells, told up to the first one below the chilling limit.

    Spells without a temperature count as a good store.
    """
    left = Range(1.0, 1.0, 1.0)
    for spell in spells:
        loss = _loss_in(spell, cure)
        if loss is None:
            return Loss(left, spell.start)
        left = Range(*(kept * (1 - lost) ** spell.days for kept, lost in zip(left, reversed(loss), strict=True)))
    return Loss(left)


def _loss_in(spell: Spell, cure: Cure) -> Range | None:
    temperature = GOOD_STORE.temperature if spell.temperature is None else round(spell.temperature, 1)
    if spell.humidity is None:
        return _daily_loss(temperature, GOOD_STORE.humidity, cure, UNKNOWN_HUMIDITY)
    return _daily_loss(temperature, round(spell.humidity), cure, None)


@lru_cache(maxsize=4096)
def _daily_loss(
    temperature: float, humidity: float, cure: Cure, humidities: tuple[float, float, float] | None
) -> Range | None:
    """The same, kept: a log tells the same air again and again."""
    return daily_loss(Air(temperature, humidity), cure, humidities)


def _daily(monthly: float) -> float:
    return float(1 - (1 - monthly) ** (1 / MONTH))


def _breath(at_15_celsius: float, temperature: float) -> float:
    return float(at_15_celsius * WARMTH_FACTOR ** ((celsius(temperature) - 15) / 10))
