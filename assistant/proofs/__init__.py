"""Proves of a rulebook what its author relies on, or shows a garden that speaks against it.

Each check is a module of its own that says what it proves, and looks for what speaks against that in
the diagrams over every way of answering.
"""

from assistant.proofs.manual import codes, page
from assistant.proofs.proving import prove
from assistant.proofs.report import Flaw, Report, Unproved

__all__ = ["Flaw", "Report", "Unproved", "codes", "page", "prove"]
