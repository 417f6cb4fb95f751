"""The outlook as a page of text: when to dig, the plot, the days, what a week's wait means, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.cli.output import BLANK, Line, listed, width
from assistant.explain.wording import day_words
from assistant.model.quantities import Units
from assistant.outlook.ahead import Outlook
from assistant.outlook.assumptions import Assumption, assumptions, missing
from assistant.outlook.picture import letters_meaning, picture
from assistant.outlook.table import table
from assistant.outlook.wording import good_day_words, headline, is_cold_known, odds_words, safe_days_words, week_words


def outlook_lines(outlook: Outlook, plain: bool = False) -> Iterator[Line]:
    """The whole page, section by section; plain leaves out the plot."""
    yield Line(f"{outlook.case.title}: six weeks from {day_words(outlook.case.on)}")
    yield BLANK
    yield Line(f"{headline(outlook)}.", "headline")
    yield from (Line(words) for words in [good_day_words(outlook)] if words)
    yield BLANK
    yield Line(f"Latest safe day, at a risk of {odds_words(outlook.risk)}", "section")
    yield from (Line(words, indent=2, bullet="- ") for words in safe_days_words(outlook))
    yield from listed("Waiting a week", list(week_words(outlook)))
    yield from listed("Not known", missing(outlook))
    if not plain and is_cold_known(outlook):
        yield from _drawn(outlook)
    yield BLANK
    yield Line(f"Day by day: % chance of a low down to {_limits(outlook)}", "section")
    yield from (Line(line) for line in table(outlook, width()))
    yield from listed("What this rests on", [_credited(each) for each in assumptions(outlook)])
    yield from listed("Sources", _sources(outlook))


def _limits(outlook: Outlook) -> str:
    return "36, 32, 28 °F" if outlook.case.units is Units.US else "36, 32, 28 °F (2.2, 0, -2.2 °C)"


def _drawn(outlook: Outlook) -> Iterator[Line]:
    yield BLANK
    yield Line("The six weeks at a glance", "section")
    yield from (Line(line) for line in picture(outlook, width()))
    yield Line(letters_meaning(outlook), bullet="advice ")


def _credited(assumption: Assumption) -> str:
    return f"{assumption.says} ({'; '.join(assumption.sources)})"


def _sources(outlook: Outlook) -> list[str]:
    """The rulebook's sources among those that are cited."""
    cited = dict.fromkeys(source for each in assumptions(outlook) for source in each.sources)
    known = [outlook.rulebook.sources[name] for name in cited if name in outlook.rulebook.sources]
    return [f"{source.id}: {source.title}, {source.year} ({source.how.value})" for source in known]
