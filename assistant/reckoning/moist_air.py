"""Moist air: dew point, vapour, and the water that air takes up, by ASHRAE's equations as PsychroLib has them.

Temperatures in °F, relative humidity in percent, pressures in kPa, at sea level where that matters. The equations take
moist air for a perfect gas, which is off by less than 0.7 % (ASHRAE Fundamentals 2017, chapter 1; read). Only this
file knows the library and its units.
"""

from __future__ import annotations

from types import ModuleType
from typing import NamedTuple

from assistant.model.quantities import celsius

SEA_LEVEL = 101_325.0
"""Pa, the standard atmosphere by definition."""
DRIEST = 0.1
"""Percent; air drier than this counts as so dry, since no dew point can be told of air without water."""
COLDEST, HOTTEST = -40.0, 200.0
"""°F; the equations hold from -148 to 392 °F, and no garden or curing room comes near these."""
GAS_CONSTANT_OF_WATER = 461.524
"""J/(kg K): the universal gas constant over the mass of water, ASHRAE Fundamentals 2017, chapter 1 (from memory)."""
CUBIC_METRES = 0.3048**3
"""In a cubic foot; exact by definition (international foot, 1959)."""
POUNDS = 1 / 0.45359237
"""In a kilogram; exact by definition (international pound, 1959)."""


class Air(NamedTuple):
    """Air at a temperature (°F) and a relative humidity (percent)."""

    temperature: float
    humidity: float

    @property
    def vapour(self) -> float:
        """The pressure of the water vapour in it (kPa)."""
        return self._share * saturation(self.temperature)

    @property
    def deficit(self) -> float:
        """How far its vapour is from saturation (kPa): what draws water out of roots."""
        return saturation(self.temperature) - self.vapour

    @property
    def dew_point(self) -> float:
        """°F; a surface that is colder gets wet in this air."""
        return _fahrenheit(_library().GetTDewPointFromRelHum(celsius(self.temperature), self._share))

    @property
    def wet_bulb(self) -> float:
        """°F; what a thermometer in a wet cloth shows in a draught."""
        return _fahrenheit(_library().GetTWetBulbFromRelHum(celsius(self.temperature), self._share, SEA_LEVEL))

    @property
    def water_ratio(self) -> float:
        """Pounds of water to a pound of dry air, the same as kg to kg."""
        return float(_library().GetHumRatioFromRelHum(celsius(self.temperature), self._share, SEA_LEVEL))

    @property
    def water_in_cubic_foot(self) -> float:
        """Pounds of water in a cubic foot, whatever the height above the sea."""
        kilograms = self.vapour * 1000 / (GAS_CONSTANT_OF_WATER * (celsius(self.temperature) + 273.15))
        return kilograms * POUNDS * CUBIC_METRES

    def wets(self, surface: float) -> bool:
        """Whether a surface at this temperature (°F) is so cold that it sweats in this air."""
        return surface < self.dew_point

    def only_heated(self, temperature: float) -> Air:
        """The same air warmed or cooled (°F), no water added; what it cannot hold drops out."""
        return Air(temperature, min(100.0, 100 * self.vapour / saturation(temperature)))

    @property
    def _share(self) -> float:
        return max(self.humidity, DRIEST) / 100


def saturation(temperature: float) -> float:
    """The vapour pressure of water, below freezing of ice, at a temperature (°F), in kPa. Raises `ValueError`."""
    if not COLDEST <= temperature <= HOTTEST:
        raise ValueError(f"{temperature} °F is no temperature of a place where roots are kept")
    return float(_library().GetSatVapPres(celsius(temperature))) / 1000


def by_wet_bulb(dry: float, wet: float) -> Air:
    """The air in which two thermometers show so much (°F), one of them in a wet cloth. Raises `ValueError`."""
    if wet > dry:
        raise ValueError("the wet thermometer cannot be the warmer one")
    return Air(dry, 100 * _library().GetRelHumFromTWetBulb(celsius(dry), celsius(wet), SEA_LEVEL))


def water_to_add(now: Air, wanted: Air, cubic_feet: float) -> float:
    """Pounds of water that bring a space from one air to the other, once; 0 when it holds enough.

    What walls, crates and soil soak up comes on top, and what the roots give off comes off.
    """
    missing = wanted.water_in_cubic_foot - now.only_heated(wanted.temperature).water_in_cubic_foot
    return max(0.0, missing * cubic_feet)


def _library() -> ModuleType:
    """The library, set to metric units; whoever used it last may have set others."""
    import psychrolib  # few commands need it

    library: ModuleType = psychrolib
    library.SetUnitSystem(library.SI)
    return library


def _fahrenheit(degrees: float) -> float:
    return float(degrees) * 9 / 5 + 32
