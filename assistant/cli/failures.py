"""What to say when a command could not do its work."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.rulebook.names import visible


class UsageError(Exception):
    """The command line asks for what cannot be done; the message is a plain sentence."""


@contextmanager
def value_of(option: str) -> Iterator[None]:
    """Where what an option says is no value, the refusal names the option."""
    try:
        yield
    except NotAValue as error:
        raise UsageError(f"{option}: {error}.") from None


def failure_text(error: Exception) -> str:
    """The failure in plain words, with file:line:column where an input is at fault."""
    if isinstance(error, BadInput):
        return problems_text(error)
    if isinstance(error, UsageError | NotAValue):
        return f"digday: {visible(str(error))}"
    if type(error).__name__ == "TooManyBranches":  # a rulebook's fault; naming its room would load the rule engine
        return f"digday: in the rulebook, {error}."
    if isinstance(error, OSError):
        return f"digday: {visible(_about_file(error))}"
    return (
        f"digday: something went wrong inside the program ({type(error).__name__}: {error}); "
        "nothing you wrote is lost. Run the same command with --debug to see where."
    )


def problems_text(error: BadInput) -> str:
    """Every problem of an input, one after the other."""
    from assistant.rulebook import render_problem

    return "\n".join(render_problem(problem) for problem in error.problems)


def _about_file(error: OSError) -> str:
    what = error.strerror or str(error)
    return f"{error.filename}: {what.lower()}." if error.filename else f"{what}."
