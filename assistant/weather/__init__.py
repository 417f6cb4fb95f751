"""Weather files: a station's daily record, screened, and forecasts. No network, nothing but the standard library."""

from assistant.weather.records import read_record

__all__ = ["read_record"]
