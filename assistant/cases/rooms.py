"""What is typed of a place: a reading of its air, and how large it is."""

from __future__ import annotations

import re

from assistant.model.quantities import Kind, NotAValue, Units, parse_value, plain_number, rounded

CUBIC_FEET = {"ft": 1.0, "m": 1 / 0.3048**3, "in": 1 / 12**3, "cm": 1 / 30.48**3}
"""In a cube of the unit; exact by definition (international foot, 1959)."""
SMALLEST, LARGEST = 0.5, 1e6
"""Cubic feet: a bucket, and a store for thousands of tons (a slip of the unit; our own judgement)."""
COLDEST, HOTTEST = -40.0, 160.0
"""°F, as thermometers of rooms go (our own judgement)."""
_READING = re.compile(r"(-?[\d.]+\s*°?\s*[FC]?)(?:[\s,;]+([\d.]+)\s*%?)?", re.IGNORECASE)
_TWO_THERMOMETERS = re.compile(r"(-?[\d.]+\s*°?\s*[FC]?)[\s,;]+wet\s+(-?[\d.]+\s*°?\s*[FC]?)", re.IGNORECASE)
_SPACE = re.compile(r"([\d./ ]+?)(?:\s*[x×]\s*([\d./ ]+?)\s*[x×]\s*([\d./ ]+?))?\s*(ft|m|in|cm)(3|³)?", re.IGNORECASE)


def parse_reading(text: str, units: Units) -> tuple[float, float | None]:
    """A temperature (°F) and a humidity (percent, None where not told), from `85 F 88 %` or `85 F wet 82 F`.

    Raises `NotAValue`.
    """
    pair = _TWO_THERMOMETERS.fullmatch(text.strip())
    if pair:
        return _by_wet_bulb(*(parse_temperature(each, units) for each in pair.groups()))
    match = _READING.fullmatch(text.strip())
    if match is None:
        raise NotAValue(f"'{text}' is no reading; write the temperature and the humidity, such as 85 F 88 %")
    temperature = parse_temperature(match[1], units)
    if not match[2]:
        return temperature, None
    humidity = parse_value(Kind.NUMBER, match[2], None)
    if not 1 <= humidity <= 100:
        raise NotAValue(f"'{match[2]}' is no humidity in percent; write 1 to 100")
    return temperature, humidity


def _by_wet_bulb(dry: float, wet: float) -> tuple[float, float]:
    """By two thermometers, one of them in a wet cloth. Raises `NotAValue`."""
    from assistant.reckoning.moist_air import by_wet_bulb  # its library is seldom needed

    try:
        humidity = rounded(by_wet_bulb(dry, wet).humidity)
    except ValueError as error:
        raise NotAValue(f"{error}; write the dry one first, such as 85 F wet 82 F") from None
    if not 1 <= humidity <= 100:
        raise NotAValue("two thermometers so far apart tell of no air here; wet the cloth and read them again")
    return dry, humidity


def parse_temperature(text: str, units: Units) -> float:
    """A temperature of a room or a root, in °F. Raises `NotAValue`."""
    temperature = parse_value(Kind.TEMPERATURE, text, units)
    if not COLDEST <= temperature <= HOTTEST:
        raise NotAValue(f"'{text.strip()}' is no temperature of a room; check the number and its unit")
    return temperature


def parse_space(text: str) -> float:
    """How large a space is, in cubic feet, from text such as 10 x 12 x 8 ft or 27 m3. Raises `NotAValue`."""
    match = _SPACE.fullmatch(text.strip())
    cubic = bool(match and match[5])
    if match is None or cubic == bool(match[2]):
        raise NotAValue(f"'{text}' is no size of a room; write one such as 10 x 12 x 8 ft or 27 m3")
    sides = [plain_number(side.strip()) for side in match.groups()[:3] if side]
    size = CUBIC_FEET[match[4].lower()]
    for side in sides:
        size *= side
    if not SMALLEST <= size <= LARGEST:
        raise NotAValue(f"'{text}' is no size of a place for roots; check the numbers and the unit")
    return size
