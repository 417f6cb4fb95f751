"""Case and scenario files: read into cases, written back, and run against what they expect."""

from assistant.cases.reading import read_case, rulebook_of
from assistant.cases.scenarios import CaseResult, find_scenarios, run_case
from assistant.cases.writing import case_data, case_text, save_case

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
