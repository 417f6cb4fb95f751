"""What all tests share."""

import gc
from asyncio import AbstractEventLoop
from collections.abc import Callable, Mapping

from hurrying import HurryingLoop
from hypothesis import settings

settings.register_profile("digday", deadline=None)  # a busy machine is no failure
settings.load_profile("digday")
gc.set_threshold(20_000)  # at Python's 700 a tenth of the time goes into looking for garbage


def pytest_asyncio_loop_factories() -> Mapping[str, Callable[[], AbstractEventLoop]]:
    """All asynchronous tests run on one kind of loop."""
    return {"hurrying": HurryingLoop}


def pytest_runtest_teardown() -> None:
    """Screens freeze what there is when they open, which would keep every screen of every test for ever."""
    gc.unfreeze()
