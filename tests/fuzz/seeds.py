"""What each parser's trials begin from: files that ship, files of the tests, and small ones written here."""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from a_season import write_season

from assistant.cases.notebooks import notebook_text
from assistant.notebook import open_notebook

ROOT = Path(__file__).resolve().parents[2]
LONGEST = 20_000
"""Bytes of a seed; of longer files the beginning, up to the end of a line."""
_SECTION = re.compile(rb"^(?=\w+:)", re.MULTILINE)

_NIGHT = {"isDaytime": False, "startTime": "2031-10-04T18:00:00-04:00", "endTime": "2031-10-05T06:00:00-04:00"}
_PERIODS = [{**_NIGHT, "temperature": 41, "temperatureUnit": "F"}, {**_NIGHT, "isDaytime": True, "temperature": 70}]
_JSON = {"properties": {"generatedAt": "2031-10-04T14:00:00+00:00", "periods": _PERIODS}}
# The sample of NOAA's page on the MEX message (vlab.noaa.gov/web/mdl/mex-card), its date moved.
_BULLETIN = b"""\
 IAD   GFSX MOS GUIDANCE   10/04/2031  0000 UTC
 FHR  24| 36  48| 60  72| 84  96|108 120|132 144|156 168|180 192
 SAT  04| SUN 05| MON 06| TUE 07| WED 08| THU 09| FRI 10| SAT 11 CLIMO
 X/N  47| 34  42| 32  44| 29  45| 32  50| 33  57| 38  58| 40  54 29 53
"""
_DLY = b"USC00319999203110TMIN" + b"   44  7" * 31 + b"\nUSC00319999203110TMAX" + b"  211  7" * 31 + b"\n"
_BY_STATION = b"USC00319999,20311004,TMIN,44,,,7,0700\nUSC00319999,20311004,TMAX,211,,,7,0700\n"
_LEDGER = b"""\
date,lot,what,part,weight,temperature,humidity,note
2031-10-06,north,dug,,120 lb,,,"dry day, late"
2031-10-17,north,stored,,,57 F,86,
2031-10-18,north,apart,nicked,10 1/2 lb,,,
2031-11-05,north,used,,6 kg,,,
2031-12-01,north,looked,,,13 C,84 %,
"""
_TYPED = (
    b"about 112", b"3 weeks ago", b"early June..20 June", b"44 40 38 F", b"7 C, 4 C", b"85 F wet 82 F", b"85 F 88 %",
    b"10 x 12 x 8 ft", b"27 m3", b"1.75..3.5 in", b"2 1/4 in, 3 1/2 cm", b"8 oz", b"2031 sweet potatoes black-rot",
    b"2031-06-20", b"green or withered", b"3 small 2 big", b"can't tell", b"~ 54 F", b"06-20", b"1/3 lb", b"-.5",
)  # fmt: skip
_WRITTEN: Mapping[str, tuple[bytes, ...]] = {
    "forecast": (json.dumps(_JSON, indent=1).encode(), _BULLETIN),
    "record": (_DLY, _BY_STATION, b"DATE,TMIN,TMAX\n2031-10-04,44,70\n2031-10-05,41,68\n"),
    "log": (
        b"time,temperature (F),humidity (%)\n2031-10-04 08:00,84,88\n2031-10-04 09:00,85,87\n",
        b'"Date Time, GMT-05:00";"Temp, \xc2\xb0C";"RH, %"\n04.10.31 08:00:00;29,1;88,2\n04.10.31 08:15:00;29,2;88\n',
        b"#,Date,Time,Temperature(C),Dew point\n1,10/4/2031,8:00 PM,29,27\n2,10/4/2031,9:00 PM,29,27\n",
    ),
    "hills": (b"hill,diameter,length,weight\n1,2.1,6,8 oz\n1,1 1/2,,\n2,3 cm,,\n3,,,\n", b"hill,count\n1,3\n"),
    "ledger": (_LEDGER,),
    "beds": (b"bed,year,crop,disease\nnorth,2031,sweet potatoes,black-rot\n,2030,garlic,\n", b"year;crop\n2031;none\n"),
    "typed": _TYPED,
}
_FOUND = {
    "rulebook": ("tests/rulebook/broken/*/*.yaml", "rulebooks/**/*.yaml"),
    "advised": ("rulebooks/_manual/*/*/*.yaml",),
    "sources": ("rulebooks/sweetpotato/sources.yaml",),
    "case": ("scenarios/**/*.yaml", "tests/rulebook/broken/*case*/*.yaml", "assistant/tui/demo-garden.yaml"),
    "record": ("tests/outside/data/*.csv",),
}


def seeds(name: str) -> list[bytes]:
    """What the trials of a parser begin from."""
    found = [path.read_bytes() for pattern in _FOUND.get(name, ()) for path in sorted(ROOT.glob(pattern))]
    if name in ("rulebook", "advised"):
        found += map(_as_one_file, sorted((ROOT / "rulebooks" / "sweetpotato").iterdir()))
    if name == "notebook":
        found += _notebooks()
    return [_beginning(content) for content in [*_WRITTEN.get(name, ()), *found] if content]


def _beginning(content: bytes) -> bytes:
    return content if len(content) <= LONGEST else content[: content.rfind(b"\n", 0, LONGEST) + 1]


def _as_one_file(folder: Path) -> bytes:
    """A rulebook's files as one, each section once."""
    sections: dict[bytes, bytes] = {}
    for path in sorted(folder.glob("*.yaml")):
        for section in _SECTION.split(path.read_bytes()):
            key, colon, body = section.partition(b":")
            if colon and not key.startswith(b"#"):
                sections[key] = sections.get(key, b"") + body
    return b"".join(key + b":" + body for key, body in sections.items())


def _notebooks() -> Iterator[bytes]:
    with tempfile.TemporaryDirectory() as folder, open_notebook(Path(folder) / "season.sqlite") as notebook:
        write_season(notebook)
        yield notebook_text(notebook, as_json=True).encode()
        yield notebook_text(notebook, as_json=False).encode()
