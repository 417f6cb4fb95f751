"""Weather files: a station's daily record, screened, and forecasts. No network, nothing but the standard library."""

from assistant.weather.forecasts import read_forecast, typed_forecast
from assistant.weather.records import read_record

__all__ = ["read_forecast", "read_record", "typed_forecast"]
