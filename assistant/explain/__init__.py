"""Words for what the engine recorded: the reasoning, the headline, JSON. One record, many views."""

from assistant.explain.evidence import cautions, disagreements, firings_behind, signs_behind, sources
from assistant.explain.reasoning import Reason, reasoning, why_not
from assistant.explain.verdict_json import verdict_json
from assistant.explain.wording import day_words, format_reading, headline, origin_words

__all__ = [
    "Reason",
    "cautions",
    "day_words",
    "disagreements",
    "firings_behind",
    "format_reading",
    "headline",
    "origin_words",
    "reasoning",
    "signs_behind",
    "sources",
    "verdict_json",
    "why_not",
]
