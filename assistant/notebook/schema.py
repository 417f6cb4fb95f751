"""The tables, step by step as they came to be. A step that has been shipped is never changed; a new one is added.

Days are ISO text, moments ISO text to the second, lists and derivations JSON text. Every number of a record is
given once, so that a program which still holds one can never hit upon another record.
"""

from __future__ import annotations

from typing import NamedTuple

APPLICATION_ID = 0x64_69_67_64  # "digd", where SQLite keeps a word on whose file it is
LOG = "migration"


class Step(NamedTuple):
    """A named change of the tables."""

    name: str
    statements: str


_BEDS = """
CREATE TABLE migration (
    name TEXT PRIMARY KEY,
    at TEXT NOT NULL
) STRICT;
CREATE TABLE entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    says TEXT NOT NULL
) STRICT;
CREATE TABLE change (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    entry INTEGER NOT NULL REFERENCES entry ON DELETE CASCADE,
    record_of TEXT NOT NULL,
    record INTEGER NOT NULL,
    before TEXT
) STRICT;
CREATE INDEX change_of_entry ON change (entry);
CREATE TABLE garden (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 200),
    units TEXT NOT NULL CHECK (units IN ('us', 'metric')),
    record TEXT NOT NULL,
    record_units TEXT NOT NULL CHECK (record_units IN ('us', 'metric')),
    forecast TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT;
CREATE TABLE frost (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    garden INTEGER NOT NULL REFERENCES garden,
    which TEXT NOT NULL CHECK (which IN ('first_frost', 'last_frost')),
    p10 TEXT NOT NULL CHECK ('2000-' || p10 = date('2000-' || p10)),
    p50 TEXT NOT NULL CHECK ('2000-' || p50 = date('2000-' || p50)),
    p90 TEXT NOT NULL CHECK ('2000-' || p90 = date('2000-' || p90)),
    UNIQUE (garden, which)
) STRICT;
CREATE TABLE bed (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    garden INTEGER NOT NULL REFERENCES garden,
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    length REAL CHECK (length > 0 AND length <= 1e6),
    row_width REAL CHECK (row_width > 0 AND row_width <= 1e6),
    note TEXT NOT NULL,
    UNIQUE (garden, name),
    UNIQUE (id, garden)
) STRICT;
CREATE TABLE history (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bed INTEGER NOT NULL REFERENCES bed,
    year INTEGER NOT NULL CHECK (year BETWEEN 1900 AND 9999),
    crop TEXT NOT NULL CHECK (length(crop) BETWEEN 1 AND 200),
    disease TEXT NOT NULL,
    ph REAL CHECK (ph BETWEEN 0 AND 14),
    note TEXT NOT NULL
) STRICT;
CREATE INDEX history_of_bed ON history (bed);
CREATE TABLE planting (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bed INTEGER NOT NULL REFERENCES bed,
    planted_from TEXT NOT NULL CHECK (planted_from = date(planted_from)),
    planted_to TEXT NOT NULL CHECK (planted_to = date(planted_to) AND planted_to >= planted_from),
    variety TEXT NOT NULL,
    slips INTEGER CHECK (slips BETWEEN 1 AND 1000000),
    spacing REAL CHECK (spacing > 0 AND spacing <= 1e6),
    ended TEXT CHECK (ended = date(ended) AND ended >= planted_from),
    note TEXT NOT NULL,
    UNIQUE (id, bed)
) STRICT;
CREATE INDEX planting_of_bed ON planting (bed);
"""

_VISITS = """
CREATE TABLE room (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    garden INTEGER NOT NULL REFERENCES garden,
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    size REAL CHECK (size > 0 AND size <= 1e6),
    note TEXT NOT NULL,
    UNIQUE (garden, name),
    UNIQUE (id, garden)
) STRICT;
CREATE TABLE visit (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    garden INTEGER NOT NULL REFERENCES garden,
    day TEXT NOT NULL CHECK (day = date(day)),
    rulebook TEXT NOT NULL CHECK (length(rulebook) > 0),
    title TEXT NOT NULL,
    units TEXT NOT NULL CHECK (units IN ('us', 'metric')),
    bed INTEGER,
    planting INTEGER,
    room INTEGER,
    note TEXT NOT NULL,
    FOREIGN KEY (bed, garden) REFERENCES bed (id, garden),
    FOREIGN KEY (planting, bed) REFERENCES planting (id, bed),
    FOREIGN KEY (room, garden) REFERENCES room (id, garden),
    CHECK (planting IS NULL OR bed IS NOT NULL),
    CHECK (bed IS NULL OR room IS NULL)
) STRICT;
CREATE INDEX visit_to_garden ON visit (garden);
CREATE INDEX visit_to_bed ON visit (bed);
CREATE INDEX visit_to_planting ON visit (planting);
CREATE INDEX visit_to_room ON visit (room);
CREATE TABLE answer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    visit INTEGER NOT NULL REFERENCES visit,
    sign TEXT NOT NULL CHECK (length(sign) > 0),
    origin TEXT NOT NULL CHECK (length(origin) > 0),
    written TEXT NOT NULL,
    low REAL,
    high REAL,
    choices TEXT,
    UNIQUE (visit, sign),
    CHECK ((low IS NULL) = (high IS NULL) AND (low IS NULL) <> (choices IS NULL)),
    CHECK (low <= high)
) STRICT;
CREATE TABLE verdict (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    visit INTEGER NOT NULL REFERENCES visit,
    day TEXT NOT NULL CHECK (day = date(day)),
    rulebook TEXT NOT NULL CHECK (length(rulebook) > 0),
    version TEXT NOT NULL,
    digest TEXT NOT NULL,
    outcome TEXT NOT NULL CHECK (outcome IN ('settled', 'open', 'no-advice', 'conflict')),
    headline TEXT NOT NULL,
    derivation TEXT NOT NULL,
    advice TEXT,
    act_by TEXT CHECK (act_by = date(act_by)),
    look_again TEXT CHECK (look_again = date(look_again))
) STRICT;
CREATE INDEX verdict_of_visit ON verdict (visit);
"""

_DIGS = """
CREATE TABLE test_dig (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    planting INTEGER NOT NULL REFERENCES planting,
    day TEXT NOT NULL CHECK (day = date(day)),
    wanted_low REAL NOT NULL CHECK (wanted_low > 0),
    wanted_high REAL NOT NULL CHECK (wanted_high <= 30),
    visit INTEGER REFERENCES visit,
    note TEXT NOT NULL,
    CHECK (wanted_low <= wanted_high)
) STRICT;
CREATE INDEX test_dig_of_planting ON test_dig (planting);
CREATE INDEX test_dig_of_visit ON test_dig (visit);
CREATE TABLE hill (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    test_dig INTEGER NOT NULL REFERENCES test_dig,
    name TEXT NOT NULL,
    small INTEGER CHECK (small BETWEEN 0 AND 1000),
    wanted INTEGER CHECK (wanted BETWEEN 0 AND 1000),
    big INTEGER CHECK (big BETWEEN 0 AND 1000),
    CHECK ((small IS NULL) = (wanted IS NULL) AND (small IS NULL) = (big IS NULL))
) STRICT;
CREATE INDEX hill_of_test_dig ON hill (test_dig);
CREATE TABLE root (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    hill INTEGER NOT NULL REFERENCES hill,
    diameter REAL CHECK (diameter > 0 AND diameter <= 30),
    length REAL CHECK (length > 0 AND length <= 30),
    grams REAL CHECK (grams > 0 AND grams <= 20000),
    CHECK (diameter IS NOT NULL OR grams IS NOT NULL)
) STRICT;
CREATE INDEX root_of_hill ON root (hill);
CREATE TABLE dig (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    planting INTEGER NOT NULL REFERENCES planting,
    day TEXT NOT NULL CHECK (day = date(day)),
    note TEXT NOT NULL
) STRICT;
CREATE INDEX dig_of_planting ON dig (planting);
"""

_LOTS = """
CREATE TABLE lot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    garden INTEGER NOT NULL REFERENCES garden,
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    dig INTEGER REFERENCES dig,
    note TEXT NOT NULL,
    UNIQUE (garden, name)
) STRICT;
CREATE INDEX lot_of_dig ON lot (dig);
CREATE TABLE stay (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    lot INTEGER NOT NULL REFERENCES lot,
    room INTEGER NOT NULL REFERENCES room,
    purpose TEXT NOT NULL CHECK (purpose IN ('cure', 'keep')),
    since TEXT NOT NULL CHECK (since = date(since)),
    until TEXT CHECK (until = date(until) AND until >= since)
) STRICT;
CREATE INDEX stay_of_lot ON stay (lot);
CREATE INDEX stay_in_room ON stay (room);
CREATE TABLE air (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    room INTEGER NOT NULL REFERENCES room,
    at TEXT NOT NULL CHECK (at = strftime('%Y-%m-%dT%H:%M:%S', at)),
    temperature REAL CHECK (temperature BETWEEN -100 AND 250),
    humidity REAL CHECK (humidity BETWEEN 0 AND 100),
    source TEXT NOT NULL,
    CHECK (temperature IS NOT NULL OR humidity IS NOT NULL)
) STRICT;
CREATE INDEX air_of_room ON air (room, at);
CREATE TABLE lot_entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    lot INTEGER NOT NULL REFERENCES lot,
    day TEXT NOT NULL CHECK (day = date(day)),
    what TEXT NOT NULL CHECK (what IN (
        'dug', 'stored', 'weighed', 'apart', 'looked', 'used', 'given', 'sold', 'seed', 'discarded'
    )),
    part TEXT NOT NULL,
    pounds REAL CHECK (pounds > 0 AND pounds <= 1e6),
    temperature REAL CHECK (temperature BETWEEN -100 AND 250),
    humidity REAL CHECK (humidity BETWEEN 0 AND 100),
    note TEXT NOT NULL,
    CHECK (pounds IS NOT NULL OR what IN ('stored', 'looked'))
) STRICT;
CREATE INDEX entry_of_lot ON lot_entry (lot);
"""

_PARTS = """
ALTER TABLE dig ADD COLUMN what TEXT NOT NULL DEFAULT 'rest' CHECK (what IN ('rest', 'part'));
ALTER TABLE dig ADD COLUMN length REAL CHECK (length > 0 AND length <= 1e6);
ALTER TABLE dig ADD COLUMN hills INTEGER CHECK (hills BETWEEN 1 AND 1000000);
CREATE TABLE shown (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    garden INTEGER NOT NULL REFERENCES garden ON DELETE CASCADE
) STRICT;
"""

STEPS = (
    Step("gardens, beds and plantings", _BEDS),
    Step("rooms, visits, answers and verdicts", _VISITS),
    Step("test digs and digs", _DIGS),
    Step("lots, and the air they lie in", _LOTS),
    Step("digs of a part, and the garden that is shown", _PARTS),
)
