from __future__ import annotations

import os
import random
import resource
import sqlite3
import subprocess
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

import pytest
from a_season import everything, write_season
from killing import assert_sound, step

from assistant.model.notebook import GardenRow
from assistant.model.place import BadInput
from assistant.notebook import Notebook, open_notebook, write_notebook

NOBODY = 65534


def refusal(deed: Callable[[], object]) -> str:
    """The one sentence with which something is refused."""
    with pytest.raises(BadInput) as error:
        deed()
    (problem,) = error.value.problems
    assert problem.hint
    return problem.message


def write_until_refused(notebook: Notebook) -> str:
    """Writes entries until one is refused, which must leave no trace; the sentence."""
    number = 0
    while True:
        before = everything(notebook)
        try:
            step(notebook, number)
        except BadInput as error:
            assert everything(notebook) == before
            return error.problems[0].message
        number += 1


def test_a_full_disk_is_told_and_what_was_written_before_is_safe(path: Path) -> None:
    with open_notebook(path) as notebook:
        (pages,) = notebook._connection.execute("PRAGMA page_count").fetchone()
        notebook._connection.execute(f"PRAGMA max_page_count = {pages + 2}")
        assert write_until_refused(notebook) == "The disk is full, so this was not written."
        kept = everything(notebook)
    assert_sound(path)
    with open_notebook(path) as notebook:
        assert everything(notebook) == kept
        notebook.add(GardenRow("There is room again"))


def test_a_disk_that_is_full_amid_an_entry_ends_the_whole_entry_even_if_somebody_looks_away(path: Path) -> None:
    def look_away(notebook: Notebook) -> None:
        with notebook.entry("gardens"):
            notebook.add(GardenRow("Home"))
            for number in range(100):
                with suppress(BadInput):
                    notebook.add(GardenRow(str(number), note="x" * 9999))

    with open_notebook(path) as notebook:
        (pages,) = notebook._connection.execute("PRAGMA page_count").fetchone()
        notebook._connection.execute(f"PRAGMA max_page_count = {pages + 2}")
        with pytest.raises(BadInput):
            look_away(notebook)
        assert notebook.all(GardenRow) == ()
        assert notebook.last_entry is None
        notebook.add(GardenRow("Home"))
    assert_sound(path)


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 320 kB."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=320k", "tmpfs", str(folder)]
    if os.geteuid() != 0 or subprocess.run(mount, check=False, capture_output=True).returncode != 0:
        pytest.skip("a small file system can only be mounted by root")
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


def test_a_file_system_that_runs_full_loses_nothing(tiny_disk: Path) -> None:
    path = tiny_disk / "notebook.sqlite"
    with open_notebook(path) as notebook:
        assert "disk" in write_until_refused(notebook)
        kept = everything(notebook)
    assert len(kept["garden"]) == 1
    assert_sound(path)
    with open_notebook(path) as notebook:
        assert everything(notebook) == kept


def test_a_disk_too_full_for_a_new_notebook_keeps_no_scraps(tiny_disk: Path) -> None:
    (tiny_disk / "other").write_bytes(b"x" * 300_000)
    assert "disk" in refusal(lambda: open_notebook(tiny_disk / "notebook.sqlite"))
    assert [each.name for each in tiny_disk.iterdir()] == ["other"]


@contextmanager
def _files_of_at_most(size: int) -> Iterator[None]:
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def test_a_file_that_may_not_grow_is_told_and_loses_nothing(path: Path) -> None:
    with open_notebook(path) as notebook:
        with _files_of_at_most(path.stat().st_size + 8192):
            assert write_until_refused(notebook) == "The disk failed or is full, so this was not written."
        kept = everything(notebook)
    assert_sound(path)
    with open_notebook(path) as notebook:
        assert everything(notebook) == kept


@contextmanager
def _nobody(folder: Path) -> Iterator[None]:
    """As somebody who may read in a folder and not write; where the tests run as root, as another user."""
    root = os.geteuid() == 0
    for above in (folder, *folder.parents)[:4]:
        if above.stat().st_uid == os.getuid() and "pytest" in str(above):
            above.chmod(0o555)
    for file in folder.iterdir():
        file.chmod(0o444)
    try:
        if root:
            os.seteuid(NOBODY)
        yield
    finally:
        if root:
            os.seteuid(0)
        for above in (folder, *folder.parents)[:4]:
            if above.stat().st_uid == os.getuid() and "pytest" in str(above):
                above.chmod(0o700)


def test_a_notebook_in_a_read_only_folder_can_be_read_and_says_that_it_cannot_be_written(path: Path) -> None:
    with open_notebook(path) as notebook:
        write_season(notebook)
        kept = everything(notebook)
    with _nobody(path.parent), open_notebook(path) as notebook:
        assert everything(notebook) == kept
        said = refusal(lambda: notebook.add(GardenRow("Away")))
        copied = refusal(lambda: notebook.backup(path.with_name("copy.sqlite")))
    assert said == "The notebook cannot be written, here or at all, so nothing was changed."
    assert copied == "No file can be made here: permission denied."
    assert_sound(path)


def test_no_notebook_can_be_made_in_a_read_only_folder(tmp_path: Path) -> None:
    with _nobody(tmp_path):
        said = refusal(lambda: open_notebook(tmp_path / "notebook.sqlite"))
    assert said == "No file can be made here: permission denied."


def test_while_another_program_writes_an_entry_waits_and_then_says_why(path: Path) -> None:
    with open_notebook(path) as notebook, open_notebook(path) as another:
        notebook._connection.execute("PRAGMA busy_timeout = 50")
        with another.entry("a long entry"):
            another.add(GardenRow("Away"))
            said = refusal(lambda: notebook.add(GardenRow("Home")))
            assert notebook.all(GardenRow) == ()
        assert said == "Another program is writing in the notebook, so nothing was changed."
        notebook.add(GardenRow("Home"))
        assert [garden.name for garden in another.all(GardenRow)] == ["Away", "Home"]
    assert_sound(path)


def test_one_who_reads_for_long_keeps_another_from_writing_but_not_from_reading(path: Path) -> None:
    with open_notebook(path) as notebook, open_notebook(path) as another:
        another._connection.execute("PRAGMA busy_timeout = 50")
        with notebook.at_one_time():
            assert notebook.all(GardenRow) == ()
            assert "Another program" in refusal(lambda: another.add(GardenRow("Away")))
            assert another.all(GardenRow) == ()
        another.add(GardenRow("Away"))
    assert_sound(path)


def test_two_programs_that_begin_at_once_end_with_one_notebook(path: Path) -> None:
    with open_notebook(path) as notebook:
        notebook.add(GardenRow("Home"))
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(Path, "exists", lambda self: False)
            with open_notebook(path) as another:
                assert another.all(GardenRow) == notebook.all(GardenRow)
            assert "of this name already" in refusal(lambda: write_notebook(path, ()))


@pytest.mark.parametrize("replaced", [True, False])
def test_nothing_is_written_in_a_notebook_that_was_moved_or_replaced(path: Path, replaced: bool) -> None:
    with open_notebook(path) as notebook:
        notebook.add(GardenRow("Home"))
        os.rename(path, path.with_name("moved.sqlite"))
        if replaced:
            open_notebook(path).close()
        for deed in (lambda: notebook.add(GardenRow("Away")), notebook.undo_last):
            assert refusal(deed).startswith("The notebook was moved, deleted or replaced")
    with open_notebook(path.with_name("moved.sqlite")) as moved:
        assert [garden.name for garden in moved.all(GardenRow)] == ["Home"]


def test_a_notebook_that_another_program_turned_to_write_ahead_is_one_file_again(path: Path) -> None:
    open_notebook(path).close()
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA journal_mode=WAL").fetchone() == ("wal",)
    with open_notebook(path) as notebook:
        notebook.add(GardenRow("Home"))
        assert [each.name for each in path.parent.iterdir()] == [path.name]


FOREIGN = {
    "a text": (b"case: A bed\n" * 500, "This is not a notebook of digday."),
    "a short text": (b"hello", "This is not a notebook of digday."),
    "nothing": (b"", "The file is empty, so it is no notebook, or no longer one."),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(3000), "This is not a notebook of digday."),
}


@pytest.mark.parametrize("what", FOREIGN)
def test_a_foreign_file_is_refused_and_not_touched(path: Path, what: str) -> None:
    content, sentence = FOREIGN[what]
    path.write_bytes(content)
    assert refusal(lambda: open_notebook(path)) == sentence
    assert path.read_bytes() == content


def test_another_program_s_database_is_refused_and_not_touched(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("CREATE TABLE garden (id INTEGER PRIMARY KEY, name TEXT)")
    before = path.read_bytes()
    assert refusal(lambda: open_notebook(path)) == "This is a database, but not a notebook of digday."
    assert path.read_bytes() == before


def test_a_folder_is_refused(tmp_path: Path) -> None:
    assert refusal(lambda: open_notebook(tmp_path)) == "This is not an ordinary file."


@pytest.fixture
def whole(path: Path) -> bytes:
    """The bytes of a notebook with a season in it."""
    with open_notebook(path) as notebook:
        write_season(notebook)
    return path.read_bytes()


def test_a_notebook_that_was_cut_short_anywhere_is_refused_in_a_sentence(path: Path, whole: bytes) -> None:
    chance = random.Random(3)
    for size in (1, 15, 16, 99, 100, 511, 4095, 4096, *(chance.randrange(len(whole)) for _ in range(40))):
        path.write_bytes(whole[:size])
        assert refusal(lambda: open_notebook(path)) in (
            "The notebook is damaged: part of the file is missing or overwritten.",
            "This is not a notebook of digday.",
        )


def test_a_notebook_with_overwritten_pages_is_refused_or_found_damaged_or_harmed_where_no_record_is(
    path: Path, whole: bytes
) -> None:
    chance = random.Random(4)
    with open_notebook(path) as notebook:
        season = everything(notebook)
    for _ in range(60):
        torn = bytearray(whole)
        start = chance.randrange(len(whole) - 512)
        torn[start : start + 512] = chance.randbytes(512)
        path.write_bytes(torn)
        try:
            with open_notebook(path) as notebook:
                if not notebook.check():
                    assert everything(notebook) == season
        except BadInput:
            continue
