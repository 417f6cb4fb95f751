from __future__ import annotations

import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from a_season import everything
from cutting import Disk, asked_of_the_disk
from killing import assert_sound, step

from assistant.notebook import open_notebook

ENTRIES = 9
CUTS = 120
SOURCE = Path(__file__).with_name("disk_log.c")


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What writes down what is asked of the disk."""
    compiler = shutil.which("cc")
    if sys.platform != "linux" or compiler is None:
        pytest.skip("what is asked of the disk is only seen on Linux, with a C compiler")
    built = tmp_path_factory.mktemp("library") / "disk_log.so"
    subprocess.run([compiler, "-shared", "-fPIC", "-o", str(built), str(SOURCE), "-ldl"], check=True)
    return built


def test_every_entry_told_as_written_is_there_after_the_power_was_cut(library: Path, tmp_path: Path) -> None:
    folder = tmp_path / "disk"
    folder.mkdir()
    open_notebook(folder / "notebook.sqlite").close()
    disk = Disk(folder)
    asked = asked_of_the_disk(library, folder / "notebook.sqlite", folder / "told", ENTRIES)
    assert {each.what for each in asked} == {"new", "write", "sync", "gone"}
    with open_notebook(tmp_path / "mirror.sqlite") as mirror:
        past = [everything(mirror)]
        for number in range(ENTRIES):
            step(mirror, number)
            past.append(everything(mirror))
    chance, told = random.Random(5), 0
    cuts = sorted(chance.choices(range(len(asked)), k=CUTS))
    for number, each in enumerate(asked):
        disk.ask(each)
        told += each.name == "told" and each.what == "write"
        for cut in range(cuts.count(number)):
            found = tmp_path / f"{number}-{cut}"
            disk.after_a_cut(found, chance)
            with open_notebook(found / "notebook.sqlite") as notebook:
                assert everything(notebook) in past[told : told + 2], f"{number} of {len(asked)}, {told} told"
                assert notebook.check() == ()
            assert_sound(found / "notebook.sqlite")
            shutil.rmtree(found)
