"""Every parser as a function of bytes: it reads them, or refuses them in a sentence; anything else is a crash."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import redirect_stderr, redirect_stdout, suppress
from datetime import date
from functools import cache
from io import StringIO
from pathlib import Path

from assistant.cases import case_text, read_case
from assistant.cases.beds import read_beds, typed_seasons
from assistant.cases.hill_files import read_hills
from assistant.cases.hills import bed_length, length_in_inches, parse_wanted, typed_hill, weight_in_grams
from assistant.cases.ledger import pounds_of, read_accounts
from assistant.cases.notebooks import import_notebook, notebook_text
from assistant.cases.rooms import parse_reading, parse_space
from assistant.cli import main
from assistant.cli.failures import problems_text
from assistant.cli.output import clean
from assistant.interview.answers import parse_answer
from assistant.model.place import BadInput, Place
from assistant.model.quantities import FIRST_YEAR, LAST_YEAR, NotAValue, Units, parse_date
from assistant.model.rules import Rulebook
from assistant.notebook import open_notebook
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.weather import read_forecast, read_record, typed_forecast
from assistant.weather.logger import read_log

Parser = Callable[[Path, bytes], None]

ON = date(2031, 10, 4)
DAYS = (ON, date(FIRST_YEAR, 1, 1), date(LAST_YEAR, 12, 31))
A_SMALL_RULEBOOK = """\
rulebook: crop/question
title: A small one
version: "1"
format: 1
about: For trials.
signs:
  vines: {kind: choice, ask: What are the vines like?, look: Look., effort: glance, choices: {green: green, dry: dry}}
advice: {several: they must agree, kinds: {dig: {headline: Dig, says: Dig now.}}}
rules: {dry-vines: {says: Dry vines., when: {vines: dry}, then: {advice: dig}, sources: [R01]}}
"""


def take(parser: Parser, folder: Path, content: bytes) -> None:
    """Give a parser its input. A refusal must have its sentence, with nothing in it that steers a terminal."""
    try:
        parser(folder, content)
    except (BadInput, NotAValue) as error:
        _check_refusal(error)


def _check_refusal(error: BadInput | NotAValue) -> None:
    text = problems_text(error) if isinstance(error, BadInput) else str(error)
    assert text.strip(), "a refusal says nothing"
    if isinstance(error, BadInput):
        assert all(problem.message for problem in error.problems)
        assert text == clean(text), "a problem's text is not safe to show"


def _written(folder: Path, name: str, content: bytes) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path


def _rulebook(folder: Path, content: bytes) -> None:
    read_rulebook(str(_written(folder, "crop/question/rulebook.yaml", content).parent))


def _advised(folder: Path, content: bytes) -> None:
    """A rulebook goes all the way: a verdict on two cases by it, with the reasons, and one question of a visit."""
    book = _written(folder, "book/rulebook.yaml", content).parent
    try:
        rulebook = read_rulebook(str(book))
    except BadInput:
        return
    signs = "".join(f"  {name}: can't tell\n" for name in rulebook.signs)
    case = f"case: A bed\nrulebook: book\non: 2031-10-04\nsigns:\n{signs}"
    for text in (case, case.partition("signs:")[0]):
        path = _written(folder, "advised.yaml", text.encode())
        for command in ("advise", "why", "cases"):
            out, err = StringIO(), StringIO()
            with redirect_stdout(out), redirect_stderr(err):
                main([command, str(path)])
            said = out.getvalue() + err.getvalue()
            assert "inside the program" not in said, said
    Visit(rulebook, read_case(path)).next_question()


def _sources(folder: Path, content: bytes) -> None:
    _written(folder, "sourced/sources.yaml", content)
    read_rulebook(str(_written(folder, "sourced/question/rulebook.yaml", A_SMALL_RULEBOOK.encode()).parent))


def _case(folder: Path, content: bytes) -> None:
    path = _written(folder, "case.yaml", content)
    case = read_case(path)
    path.write_text(case_text(case), encoding="utf-8")
    assert case_text(read_case(path)) == case_text(case)


def _record(folder: Path, content: bytes) -> None:
    path = _written(folder, "record", content)
    for units in Units:
        read_record(path, units)


def _forecast(folder: Path, content: bytes) -> None:
    read_forecast(_written(folder, "forecast", content), ON)


def _log(folder: Path, content: bytes) -> None:
    path = _written(folder, "log.csv", content)
    for units in Units:
        read_log(path, units)


def _hills(folder: Path, content: bytes) -> None:
    read_hills(_written(folder, "hills.csv", content), Units.US)


def _ledger(folder: Path, content: bytes) -> None:
    read_accounts(_written(folder, "ledger.csv", content), Units.METRIC)


def _beds(folder: Path, content: bytes) -> None:
    read_beds(_written(folder, "beds.csv", content))


def _notebook(folder: Path, content: bytes) -> None:
    """By its first byte JSON or YAML; what is imported is exported, and imported again to the same text."""
    ending = "json" if content[:1] == b"{" else "yaml"
    texts = []
    for _ in range(2):
        for left in folder.glob("notebook.sqlite*"):
            left.unlink()
        import_notebook(_written(folder, f"notebook.{ending}", content), folder / "notebook.sqlite")
        with open_notebook(folder / "notebook.sqlite") as notebook:
            texts.append(notebook_text(notebook, as_json=ending == "json"))
            assert notebook.check() == ()
        content = texts[-1].encode()
    assert texts[0] == texts[1]


def _typed(folder: Path, content: bytes) -> None:
    """The first line is typed wherever something can be typed; each place takes it or refuses it."""
    text = content.decode("utf-8", "replace").partition("\n")[0]
    for parse in _TYPED:
        for units in Units:
            try:
                parse(text, units)
            except (NotAValue, BadInput) as error:
                _check_refusal(error)


def _answers(text: str, units: Units) -> None:
    for sign in _shipped().signs.values():
        for on in DAYS:
            with suppress(NotAValue):
                parse_answer(sign, text, on, units)


def _lows(text: str, units: Units) -> None:
    for on in DAYS:
        with suppress(NotAValue):
            typed_forecast(text, on, units)


@cache
def _shipped() -> Rulebook:
    return read_rulebook("sweetpotato/when-to-dig")


_TYPED: tuple[Callable[[str, Units], object], ...] = (
    _answers,
    _lows,
    parse_reading,
    parse_wanted,
    length_in_inches,
    pounds_of,
    lambda text, units: typed_hill(text, "1", Place("hill", 1, 1), units),
    lambda text, _: parse_space(text),
    lambda text, _: bed_length(text, "ft"),
    lambda text, _: weight_in_grams(text),
    lambda text, _: typed_seasons([text]),
    lambda text, _: parse_date(text),
)

PARSERS: Mapping[str, Parser] = {
    "rulebook": _rulebook,
    "advised": _advised,
    "sources": _sources,
    "case": _case,
    "record": _record,
    "forecast": _forecast,
    "log": _log,
    "hills": _hills,
    "ledger": _ledger,
    "beds": _beds,
    "notebook": _notebook,
    "typed": _typed,
}
