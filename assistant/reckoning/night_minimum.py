"""How cold a clear, calm night gets, told from the evening: a hint with its limits. °C, as in the source."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import linear_regression
from typing import NamedTuple


class NightRule(NamedTuple):
    """A night's low (°C) as a sum of parts of the evening's temperature and dew point (°C), with its error (°C)."""

    of_temperature: float
    of_dew_point: float
    constant: float
    error: float

    def low(self, temperature: float, dew_point: float) -> float:
        """The low to expect (°C) from temperature and dew point two hours after sunset (°C).

        Only for clear, calm nights: wind under 2 m/s, no cloud, fog or rain.
        """
        return self.of_temperature * temperature + self.of_dew_point * dew_point + self.constant


CLEAR_CALM_NIGHT = NightRule(0.719, 0.305, -4.214, 1.61)
"""63 clear, calm nights of one inland station's typical year (NREL TMY3 723170). Elsewhere it can be 7 °C off."""


def fitted(temperatures: Sequence[float], dew_points: Sequence[float], lows: Sequence[float]) -> NightRule:
    """A rule from a place's own clear, calm nights (°C, three or more), in two steps.

    First the lows on the evening's temperature, then what is left on the dew point. Raises
    `ValueError` for fewer nights. Source: Snyder and de Melo-Abreu 2005, FAO Environment and Natural
    Resources Series 10, vol. 1, chapter 5.
    """
    if len(lows) < 3:
        raise ValueError("a rule needs three nights or more")
    slope, constant = linear_regression(temperatures, lows)
    left = [low - slope * evening - constant for evening, low in zip(temperatures, lows, strict=True)]
    of_dew_point, rest = linear_regression(dew_points, left)
    misses = [miss - of_dew_point * dew - rest for miss, dew in zip(left, dew_points, strict=True)]
    error = (sum(miss**2 for miss in misses) / len(misses)) ** 0.5
    return NightRule(slope, of_dew_point, constant + rest, error)
