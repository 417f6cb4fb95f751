from __future__ import annotations

import csv
import io
import json
import random
import string
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import sqlite_utils
from a_season import everything, season, write_season
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlite_utils.utils import rows_from_file

from assistant.cases.notebooks import import_notebook, notebook_text, table_csv, write_new
from assistant.model.notebook import TABLES, GardenRow, Record
from assistant.model.place import BadInput
from assistant.notebook import Notebook, open_notebook
from assistant.notebook.rows import columns, defaults

Draw = Callable[[st.SearchStrategy[Any]], Any]

ODD = ("no", "12", "1e3", "~", "- x", "a: b", " x ", "'", "2031-10-04", "\x85", "#", "")
TEXT = st.text(max_size=20) | st.sampled_from(ODD)
DATA: st.SearchStrategy[Any] = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.floats(-1e6, 1e6) | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=8,
)
FIXED = ("which", "purpose", "what")
FORMS = ("yaml", "json")
SLIPS = (b"", b"\x00", b"-", b": ", b"[", b'"', b"9", b"\xff", b"\n")
WRONG = 40  # thousands were tried by hand


def varied(record: Record, draw: Draw) -> Record:
    """The record with random words, days and amounts, most of them such as its table takes."""
    shift = timedelta(days=draw(st.integers(-5000, 5000)))
    free = {name for name, usual in defaults(type(record)).items() if usual == ""}
    changes = {}
    for name, (kind, _) in columns(type(record)).items():
        value = getattr(record, name)
        if kind is str and name not in FIXED:
            changes[name] = draw(TEXT) if name in free else f"{value}{draw(TEXT)}"
        elif isinstance(value, float):
            changes[name] = value * draw(st.floats(0.5, 1))
        elif isinstance(value, datetime):
            changes[name] = value + shift + timedelta(seconds=draw(st.floats(0, 9999)))
        elif isinstance(value, date):
            changes[name] = value + shift
        elif isinstance(value, tuple) and kind is tuple:
            changes[name] = tuple(draw(st.lists(TEXT, min_size=1, max_size=3)))
        elif isinstance(value, dict):
            changes[name] = draw(st.dictionaries(TEXT, DATA))
    return record._replace(**changes)  # type: ignore[attr-defined, no-any-return]


def write_random_records(notebook: Notebook, draw: Draw) -> None:
    """A random season, with up to two more records of each kind; what the tables refuse is left out."""
    for record in season():
        for _ in range(draw(st.integers(1, 3))):
            with suppress(BadInput):
                notebook.add(varied(record, draw))


@given(st.data())
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_notebook_imports_from_its_export_as_it_was(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.mktemp("random")
    with open_notebook(folder / "before.sqlite") as notebook:
        with notebook.entry("a random season"):
            write_random_records(notebook, data.draw)
        kept = everything(notebook)
        assert sum(map(len, kept.values())) > 15
        for form in FORMS:
            write_new(folder / f"all.{form}", notebook_text(notebook, form == "json"))
    for form in FORMS:
        import_notebook(folder / f"all.{form}", folder / f"{form}.sqlite")
        with open_notebook(folder / f"{form}.sqlite") as again:
            assert everything(again) == kept
            assert again.check() == ()


@pytest.mark.parametrize("form", FORMS)
def test_a_season_imports_from_its_export_as_it_was(notebook: Notebook, tmp_path: Path, form: str) -> None:
    write_season(notebook)
    write_new(tmp_path / f"all.{form}", notebook_text(notebook, form == "json"))
    records = import_notebook(tmp_path / f"all.{form}", tmp_path / "again.sqlite")
    with open_notebook(tmp_path / "again.sqlite") as again:
        assert everything(again) == everything(notebook)
        assert notebook_text(again, form == "json") == notebook_text(notebook, form == "json")
    assert records == sum(len(rows) for rows in everything(notebook).values())


def test_the_export_reads_as_a_season(notebook: Notebook) -> None:
    write_season(notebook)
    text = notebook_text(notebook, as_json=False)
    assert text.startswith("notebook: digday\ngarden:\n  - id: 1\n    name: Home\n")
    assert "  - id: 1\n    visit: 1\n    sign: vines\n    origin: answered\n    written: green, yellowing\n" in text
    assert "    derivation:\n      fired:\n        - mild\n" in text
    assert "null" not in text


def test_every_number_of_the_notebook_is_the_same_to_another_reader(notebook: Notebook, path: Path) -> None:
    write_season(notebook)
    with_us = {table: notebook.rows(table) for table in TABLES}
    database = sqlite_utils.Database(path)
    assert {table: list(database[table].rows) for table in TABLES} == with_us
    assert [key.other_table for key in database.table("answer").foreign_keys] == ["visit"]
    database.conn.close()


@pytest.mark.parametrize("table", TABLES)
def test_a_table_as_csv_is_read_by_another_reader_as_the_notebook_has_it(notebook: Notebook, table: str) -> None:
    write_season(notebook)
    text = table_csv(notebook, table)
    rows, _ = rows_from_file(io.BytesIO(text.encode()))
    told = [{name: "" if cell is None else str(cell) for name, cell in row.items()} for row in notebook.rows(table)]
    assert list(rows) == told
    assert list(csv.DictReader(io.StringIO(text))) == told


HEAD = "notebook: digday\n"
BED = HEAD + "garden:\n  - name: Home\nbed:\n  - garden: 1\n    name: x\n"
BAD = {
    "no export": ("case: A bed\n", "not-an-export", 1),
    "an unknown table": (HEAD + "beds: []\n", "unknown-table", 2),
    "a table that is no list": (HEAD + "garden: Home\n", "not-a-list", 2),
    "a record that is none": (HEAD + "garden:\n  - Home\n", "not-a-mapping", 3),
    "an unknown field": (HEAD + "garden:\n  - nam: Home\n    name: Home\n", "unknown-column", 3),
    "a field left out": (HEAD + "garden:\n  - note: x\n", "left-out", 3),
    "a day that is none": (HEAD + "dig:\n  - planting: 1\n    day: 2031-02-30\n", "bad-value", 4),
    "a day out of reach": (HEAD + "dig:\n  - planting: 1\n    day: 0999-12-31\n", "bad-value", 4),
    "a moment out of reach": (HEAD + "air:\n  - room: 1\n    at: '9000-01-01T00:00:00'\n", "bad-value", 4),
    "a moment that is none": (HEAD + "air:\n  - room: 1\n    at: '2031-10-04T25:00:00'\n", "bad-value", 4),
    "a number that is none": (HEAD + "bed:\n  - garden: 1\n    name: x\n    length: long\n", "bad-value", 5),
    "a name that is a number": (HEAD + "garden:\n  - name: 12\n", "bad-value", 3),
    "another word than there are": (HEAD + "garden:\n  - name: x\n    units: furlongs\n", "bad-value", 4),
    "a bed of no garden": (HEAD + "bed:\n  - garden: 1\n    name: Long bed\n", "belongs-to-nothing", 3),
    "a number twice": (HEAD + "garden:\n  - id: 1\n    name: a\n  - id: 1\n    name: b\n", "already-there", 5),
    "what cannot be": (BED + "    length: -1.0\n", "impossible", 5),
}  # fmt: skip


@pytest.mark.parametrize("what", BAD)
def test_a_bad_export_is_refused_at_its_place_and_makes_no_notebook(tmp_path: Path, what: str) -> None:
    text, code, line = BAD[what]
    file = tmp_path / "all.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        import_notebook(file, tmp_path / "again.sqlite")
    assert [(each.code, each.place.line) for each in refusal.value.problems] == [(code, line)]
    assert [each.name for each in tmp_path.iterdir()] == ["all.yaml"]


def test_every_problem_of_an_export_is_told_at_once(tmp_path: Path) -> None:
    file = tmp_path / "all.yaml"
    file.write_text(HEAD + "garden:\n  - nam: x\n  - name: y\n    units: z\n", encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        import_notebook(file, tmp_path / "again.sqlite")
    assert [each.code for each in refusal.value.problems] == ["unknown-column", "left-out", "bad-value"]


BAD_JSON: dict[str, Callable[[dict[str, Any]], str]] = {
    "cut short": lambda data: json.dumps(data)[:-3],
    "a key twice": lambda data: json.dumps(data)[:-1] + ', "garden": []}',
    "not a number": lambda data: json.dumps({**data, "bed": [{"garden": 1, "name": "x", "length": float("nan")}]}),
    "too deep": lambda data: "[" * 100_000,
    "a list": lambda data: "[]",
    "true for a number": lambda data: json.dumps({**data, "bed": [{"garden": True, "name": "x"}]}),
    "beyond all numbers": lambda data: json.dumps({**data, "bed": [{"garden": 10**30, "name": "x"}]}),
}


@pytest.mark.parametrize("what", BAD_JSON)
def test_bad_json_is_refused_in_a_sentence_and_makes_no_notebook(tmp_path: Path, what: str) -> None:
    file = tmp_path / "all.json"
    file.write_text(BAD_JSON[what]({"notebook": "digday", "garden": [{"name": "Home"}]}), encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        import_notebook(file, tmp_path / "again.sqlite")
    assert len(refusal.value.problems) == 1
    assert [each.name for each in tmp_path.iterdir()] == ["all.json"]


def test_an_export_is_of_one_moment_though_another_program_would_write(
    notebook: Notebook, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_season(notebook)
    whole, read = notebook_text(notebook, as_json=False), Notebook.all
    with open_notebook(path) as another:
        another._connection.execute("PRAGMA busy_timeout = 1")

        def all_while_another_writes(self: Notebook, kind: type[Any], **where: object) -> tuple[Any, ...]:
            with suppress(BadInput):
                another.add(GardenRow(f"Garden {len(another.rows('garden'))}"))
            return read(self, kind, **where)

        monkeypatch.setattr(Notebook, "all", all_while_another_writes)
        text = notebook_text(notebook, as_json=False)
    monkeypatch.undo()
    assert text.partition("\nfrost:")[2] == whole.partition("\nfrost:")[2]
    assert text.count("Garden ") == len(notebook.all(GardenRow)) - 1


@pytest.mark.parametrize("form", FORMS)
def test_an_export_with_bytes_gone_wrong_is_imported_soundly_or_refused(
    notebook: Notebook, tmp_path: Path, form: str
) -> None:
    chance = random.Random(7)
    write_season(notebook)
    whole = notebook_text(notebook, form == "json").encode()
    for number in range(WRONG):
        text = bytearray(whole)
        for _ in range(chance.randint(1, 4)):
            at = chance.randrange(len(text))
            text[at : at + chance.randrange(3)] = chance.choice(SLIPS)
        (tmp_path / f"wrong.{form}").write_bytes(text)
        to = tmp_path / f"{number}.sqlite"
        try:
            import_notebook(tmp_path / f"wrong.{form}", to)
        except BadInput:
            assert not to.exists()
        else:
            with open_notebook(to) as again:
                assert again.check() == ()


def test_an_import_never_writes_over_a_notebook(notebook: Notebook, path: Path, tmp_path: Path) -> None:
    write_season(notebook)
    write_new(tmp_path / "all.yaml", HEAD)
    before = path.read_bytes()
    with pytest.raises(BadInput, match="There is a file of this name already"):
        import_notebook(tmp_path / "all.yaml", path)
    assert path.read_bytes() == before


def test_names_with_letters_of_all_kinds_come_back(notebook: Notebook, tmp_path: Path) -> None:
    names = ["Süßkartoffel", "さつまいも", "🍠 bed", "a\u2028b", "\ufeffx", "'quoted'", string.punctuation]
    for name in names:
        notebook.add(GardenRow(name))
    for form in FORMS:
        write_new(tmp_path / f"all.{form}", notebook_text(notebook, form == "json"))
        import_notebook(tmp_path / f"all.{form}", tmp_path / f"{form}.sqlite")
        with open_notebook(tmp_path / f"{form}.sqlite") as again:
            assert [garden.name for garden in again.all(GardenRow)] == names
