"""What to ask next, and what an answer means."""

from assistant.interview.answers import parse_answer
from assistant.interview.questions import advice_at_stake, questions_left

__all__ = ["advice_at_stake", "parse_answer", "questions_left"]
