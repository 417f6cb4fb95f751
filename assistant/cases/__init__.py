"""Case and scenario files: read into cases, written back, and run against what they expect."""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from assistant.cases.reading import read_case, rulebook_of
    from assistant.cases.scenarios import CaseResult, find_scenarios, run_case
    from assistant.cases.writing import case_data, case_text, save_case

_HOMES = {
    "reading": ("read_case", "rulebook_of"),
    "scenarios": ("CaseResult", "find_scenarios", "run_case"),
    "writing": ("case_data", "case_text", "save_case"),
}

__all__ = [
    "CaseResult",
    "case_data",
    "case_text",
    "find_scenarios",
    "read_case",
    "rulebook_of",
    "run_case",
    "save_case",
]


def __getattr__(name: str) -> object:
    """Loads a part when it is first asked for, so that a command pays only for what it uses."""
    for home, names in _HOMES.items():
        if name in names:
            return getattr(import_module(f"{__name__}.{home}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
