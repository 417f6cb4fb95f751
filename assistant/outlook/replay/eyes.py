"""What a grower and the assistant know of a bed on a day: what was seen and measured so far, and the day's forecast.

Made with the arithmetic of the rooms below from nights that are over and from other years, so nothing to come shows.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cached_property
from itertools import accumulate
from statistics import median

from assistant.measures import domains, known_readings
from assistant.model.case import Case, Garden
from assistant.model.quantities import rounded
from assistant.model.readings import Known, Origin, Reading, Span, exactly, one_of
from assistant.model.rules import Rulebook
from assistant.model.signs import CHANCE, FromWeather
from assistant.model.weather import Forecast, ForecastNight
from assistant.outlook.replay.beds import Bed
from assistant.outlook.replay.forecasts import Forecasts
from assistant.reckoning.forecast_odds import Climate, chance_at_or_below
from assistant.reckoning.heat_units import MOST_COOL_NIGHTS, sweet_potato_units
from assistant.reckoning.nights_ahead import NightsAhead
from assistant.reckoning.soil_warmth import soil_course, soil_range

THERMOMETER = 1.0
"""°F; standard deviation of a kitchen thermometer's error, the same all autumn. Our judgement."""
COLD_NIGHT = 36
"""°F; a forecast night that counts as cold (the sign `cold_nights`)."""
NO_CHANCE = 0.00004
"""Chances that add up to less than this are 0.00 %, whatever goes together."""

SOUND: Mapping[str, Reading] = {
    "soil": one_of("workable"),
    "standing_water_days": exactly(0),
    "heavy_rain_in": exactly(10),
    "rot_seen": one_of("no"),
    "sap": one_of("milky"),
    "cover": one_of("no"),
    "curing_place": one_of("ready"),
}
"""What the record does not tell and the replay takes for granted: soil fit to dig, no flood, no rot, no cover."""


class Eyes:
    """The eyes of one grower on one bed."""

    def __init__(
        self, rulebook: Rulebook, variety: str, bed: Bed, forecasts: Forecasts, thermometer_error: float = 0.0
    ) -> None:
        self.rulebook = rulebook
        self.variety = variety
        self.bed = bed
        self.forecasts = forecasts
        self.thermometer_error = thermometer_error
        self._kept: tuple[int, dict[str, Reading]] | None = None

    def readings(self, day: int, next_chance: str, roots: Reading | None = None) -> dict[str, Reading]:
        """What is known on a day; `roots` are the sizes that a test dig allows, None when nobody has looked."""
        on = self.bed.autumn.on(day)
        told = {**SOUND, **self._told(day), "next_chance": one_of(next_chance)}
        if roots is not None:
            told["roots"] = roots
        answers = {sign: Known(its, Origin.ANSWERED) for sign, its in told.items() if sign in self.rulebook.signs}
        known = known_readings(self.rulebook, Case("", self.rulebook.name, on, garden=self.garden, answers=answers))
        return {name: its.reading for name, its in known.items()}

    def domains(self, day: int) -> dict[str, Reading]:
        """Everything the readings can be on a day."""
        return domains(self.rulebook, self.bed.autumn.on(day))

    @cached_property
    def garden(self) -> Garden:
        """The garden with its frost dates by the other years."""
        dates = self.bed.autumn.frost_dates
        return Garden({"first_frost": dates} if dates else {})

    def _told(self, day: int) -> dict[str, Reading]:
        """What the bed and the weather tell of a day, kept until another day is asked for."""
        if self._kept is None or self._kept[0] != day:
            self._kept = day, {**self._seen(day), **self._forecast(day), **self._weather(day)}
        return self._kept[1]

    def _seen(self, day: int) -> dict[str, Reading]:
        autumn = self.bed.autumn
        seen: dict[str, Reading] = {
            "planted_on": exactly(autumn.planted.toordinal()),
            "variety": one_of(self.variety),
            "vines": one_of(self.bed.vines(day)),
            "frost": one_of(self.bed.frost(day)),
            "recent_nights": exactly(rounded(median(autumn.lows[max(0, day - 6) : day + 1]))),
            "soil_temperature": self._soil_measured(day),
        }
        if day >= self.bed.first_frost:
            seen["frost_days_ago"] = exactly(day - self.bed.first_frost)
        heat = self._heat_units[day]
        return seen if heat is None else {**seen, "heat_units": exactly(heat)}

    def _soil_measured(self, day: int) -> Span:
        """The soil by a kitchen thermometer, whose readings tell how far the bed is from what the air lets reckon."""
        soil = self.bed.soil[day - 1] + self.thermometer_error
        sign = self.rulebook.signs.get("soil_temperature")
        about = sign.margin(soil) if sign else 0.0
        return _rounded(Span(soil - about, soil + about))

    @cached_property
    def _heat_units(self) -> list[float | None]:
        """Degree days up to each day by the sweet potato rule; None where the nights are too cool for it."""
        nights = list(zip(self.bed.autumn.lows, self.bed.autumn.highs, strict=True))
        sums = accumulate((sweet_potato_units(low, high) for low, high in nights), initial=0.0)
        cool = accumulate((low < 60 for low, _ in nights), initial=0)
        return [
            None if so_far > MOST_COOL_NIGHTS * max(day, 1) else rounded(total)
            for day, (total, so_far) in enumerate(zip(sums, cool, strict=True))
        ]

    def _forecast(self, day: int) -> dict[str, Reading]:
        lows = self.forecasts[day]
        return {
            "forecast_low": exactly(min(lows)),
            "forecast_low_in": exactly(lows.index(min(lows))),
            "cold_nights": exactly(sum(low <= COLD_NIGHT for low in lows)),
        }

    def _weather(self, day: int) -> dict[str, Reading]:
        """The signs that the rulebook has reckoned from the weather."""
        ahead = self.ahead(day)
        found: dict[str, Reading] = {}
        for name, how in ((name, sign.told) for name, sign in self.rulebook.signs.items() if sign.told):
            span = chance(ahead, how) if how.quantity == CHANCE else self._soil(day, ahead, how)
            if span is not None:
                found[name] = span
        return found

    def ahead(self, day: int) -> NightsAhead:
        """The nights after a day, as its forecast and the other years tell them."""
        on = self.bed.autumn.on(day)
        nights = (ForecastNight(on + timedelta(days=lead + 1), low) for lead, low in enumerate(self.forecasts[day]))
        return NightsAhead(on, Forecast(on, tuple(nights)), self._usual)

    def _usual(self, day: date) -> Climate | None:
        since = (day - self.bed.autumn.planted).days
        return self.bed.autumn.usual[since] if since < len(self.bed.autumn.usual) else None

    def _soil(self, day: int, ahead: NightsAhead, how: FromWeather) -> Span | None:
        coming = [ahead.expected(night) for night in range(how.nights)]
        means = [night.mean + self._swing / 2 for night in coming if night is not None]
        if len(means) < how.nights:
            return None
        *_, then = self.bed.autumn.soil[day - 1], *soil_course(means, self.bed.autumn.soil[day - 1])
        return _rounded(soil_range(then))

    @cached_property
    def _swing(self) -> float:
        autumn = self.bed.autumn
        return median(high - low for low, high in zip(autumn.lows, autumn.highs, strict=True))


def chance(ahead: NightsAhead, how: FromWeather) -> Span | None:
    """The percent chance of a low at or below a threshold, as the measures reckon it."""
    expected = [ahead.expected(night) for night in range(how.nights)]
    if None not in expected and sum(chance_at_or_below(how.at_or_below, one) for one in expected if one) < NO_CHANCE:
        return exactly(0)
    found = ahead.chance(how.at_or_below, range(how.nights))
    return None if found is None else exactly(rounded(100 * found))


def _rounded(span: Span) -> Span:
    return Span(rounded(span.low), rounded(span.high))
