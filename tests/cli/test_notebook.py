"""`digday notebook`: what is kept as text and back, copied, and found sound or not."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from a_season import everything, write_season

from assistant.model.notebook import TABLES
from assistant.notebook import default_path, open_notebook

from .conftest import Digday


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A notebook with a season in it."""
    with open_notebook(tmp_path / "kept.sqlite") as notebook:
        write_season(notebook)
    return tmp_path / "kept.sqlite"


@pytest.mark.parametrize("file", ["all.yaml", "all.json"])
def test_what_is_exported_to_a_file_is_imported_as_it_was(digday: Digday, kept: Path, file: str) -> None:
    assert digday("notebook", "export", file, "--notebook", kept) == (0, "", f"Written to {file}.\n")
    run = digday("notebook", "import", file, "--notebook", "again.sqlite")
    assert run == (0, "22 records are now in again.sqlite.\n", "")
    with open_notebook(kept) as before, open_notebook(Path("again.sqlite")) as again:
        assert everything(before) == everything(again)


def test_the_export_goes_to_standard_output_when_no_file_is_named(digday: Digday, kept: Path) -> None:
    text = digday("notebook", "export", "--notebook", kept).out
    assert text.startswith("notebook: digday\n")
    assert json.loads(digday("notebook", "export", "--json", "--notebook", kept).out)["bed"][0]["name"] == "Long bed"


def test_an_export_never_writes_over_a_file(digday: Digday, kept: Path) -> None:
    before = kept.read_bytes()
    run = digday("notebook", "export", kept, "--notebook", kept)
    assert (run.code, run.err) == (2, f"digday: {kept} is there already; name a new file.\n")
    assert kept.read_bytes() == before


def test_a_table_is_written_as_csv(digday: Digday, kept: Path) -> None:
    run = digday("notebook", "export", "--csv", "lot", "--notebook", kept)
    assert run == (0, "garden,name,dig,note,id\n1,north,1,,1\n", "")


def test_a_table_that_is_none_is_answered_with_the_tables_there_are(digday: Digday, kept: Path) -> None:
    run = digday("notebook", "export", "--csv", "weeds", "--notebook", kept)
    assert run.code == 2
    assert run.err == f"digday: 'weeds' is no table; the tables are {', '.join(TABLES)}.\n"


def test_a_backup_lies_beside_the_notebook_under_a_name_of_its_own(digday: Digday, kept: Path) -> None:
    copies = [json.loads(digday("notebook", "backup", "--json", "--notebook", kept).out)["backup"] for _ in range(2)]
    assert len(set(copies)) == 2
    for copy in copies:
        assert Path(copy).parent == kept.parent
        with open_notebook(Path(copy)) as copied, open_notebook(kept) as notebook:
            assert everything(copied) == everything(notebook)


def test_a_sound_notebook_is_said_to_be_sound_and_what_it_holds(digday: Digday, kept: Path) -> None:
    run = digday("notebook", "check", "--notebook", kept)
    assert run.code == 0
    assert run.out.startswith(f"{kept} is sound. It holds: 1 garden, 1 frost, 2 bed,")
    told = json.loads(digday("notebook", "check", "--json", "--notebook", kept).out)
    assert (told["problems"], told["records"]["lot_entry"], len(told["steps"])) == ([], 2, 5)


def _broken(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        for statement in statements:
            connection.execute(statement)


BROKEN = {
    "a record of nothing": ("DELETE FROM garden", "frost 1 belongs to a garden that is not there."),
    "a foreign table": ("CREATE TABLE weeds (id)", "The tables are not those that digday makes"),
    "a word that is none": ("UPDATE answer SET origin = 'a dream'", "answer 1: 'a dream' cannot stand here"),
    "a derivation that is none": ("UPDATE verdict SET derivation = '{'", "verdict 1: there should be keys"),
}


@pytest.mark.parametrize("what", BROKEN)
def test_what_is_wrong_with_a_notebook_is_told_and_the_answer_is_no(digday: Digday, kept: Path, what: str) -> None:
    statement, sentence = BROKEN[what]
    _broken(kept, statement)
    run = digday("notebook", "check", "--notebook", kept)
    assert run.code == 1
    assert sentence in run.out
    assert json.loads(digday("notebook", "check", "--json", "--notebook", kept).out)["problems"]


def test_a_damaged_page_is_told(digday: Digday, kept: Path) -> None:
    with closing(sqlite3.connect(kept)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'air'").fetchone()
    torn = bytearray(kept.read_bytes())
    torn[(page - 1) * 4096 : page * 4096] = b"\x99" * 4096
    kept.write_bytes(torn)
    run = digday("notebook", "check", "--notebook", kept)
    assert run.code == 1
    assert "The file is damaged" in run.out
    assert digday("notebook", "export", "--notebook", kept).code == 2


@pytest.mark.parametrize("way", [("export",), ("backup",), ("check",)])
def test_where_there_is_no_notebook_none_is_made(digday: Digday, tmp_path: Path, way: tuple[str, ...]) -> None:
    before = sorted(tmp_path.rglob("*"))
    run = digday("notebook", *way)
    assert run.code == 2
    assert "There is no notebook here yet. [no-notebook]" in run.err
    assert sorted(tmp_path.rglob("*")) == before


def test_your_own_notebook_lies_in_the_folder_for_data_and_is_never_written_over(digday: Digday, kept: Path) -> None:
    digday("notebook", "export", "all.yaml", "--notebook", kept)
    assert digday("notebook", "import", "all.yaml").code == 0
    assert default_path().is_relative_to(kept.parent)
    assert digday("notebook", "check").out.startswith(f"{default_path()} is sound.")
    run = digday("notebook", "import", "all.yaml")
    assert run.code == 2
    assert "There is a file of this name already" in run.err
