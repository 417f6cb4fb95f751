"""What all tests share."""

import gc
import shutil
from asyncio import AbstractEventLoop
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest
from hurrying import HurryingLoop
from hypothesis import settings

from assistant.garden import demo
from assistant.notebook import Notebook, open_notebook

settings.register_profile("digday", deadline=None)  # a busy machine is no failure
settings.load_profile("digday")
gc.set_threshold(20_000)  # at Python's 700 a tenth of the time goes into looking for garbage


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Two processes for the whole suite; none for a part, where starting them takes longer than it saves."""
    return 2 if config.args_source is pytest.Config.ArgsSource.TESTPATHS else 0


def pytest_asyncio_loop_factories() -> Mapping[str, Callable[[], AbstractEventLoop]]:
    """All asynchronous tests run on one kind of loop."""
    return {"hurrying": HurryingLoop}


def pytest_runtest_teardown() -> None:
    """Screens freeze what there is when they open, which would keep every screen of every test for ever."""
    gc.unfreeze()


@pytest.fixture(scope="session")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A notebook with the invented garden of the demo, made once and only ever copied."""
    path = tmp_path_factory.mktemp("invented") / "garden.sqlite"
    with open_notebook(path) as notebook:
        demo.fill(notebook)
    return path


@pytest.fixture
def kept(invented: Path, tmp_path: Path) -> Iterator[Notebook]:
    """The invented garden in a notebook of the test's own."""
    path = tmp_path / "garden.sqlite"
    shutil.copy(invented, path)
    with open_notebook(path) as notebook:
        yield notebook
