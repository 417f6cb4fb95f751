"""Fires a rulebook's rules on what is known, and leaves the record of it."""

from assistant.inference.branches import Branch, ChoiceTest, FindingTest, SpanTest, Test, hundredths
from assistant.inference.engine import EngineFault, run
from assistant.inference.evaluator import Evaluation, evaluate, truth_of_rules, with_advice
from assistant.inference.sides import MOST_BRANCHES, Side, TooManyBranches, branches_of

__all__ = [
    "Branch",
    "ChoiceTest",
    "EngineFault",
    "Evaluation",
    "FindingTest",
    "MOST_BRANCHES",
    "Side",
    "SpanTest",
    "Test",
    "TooManyBranches",
    "branches_of",
    "evaluate",
    "hundredths",
    "run",
    "truth_of_rules",
    "with_advice",
]
