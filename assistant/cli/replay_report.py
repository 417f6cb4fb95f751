"""A replay as a page of text, and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from assistant.cli.output import BLANK, Line, listed
from assistant.model.rules import Rulebook
from assistant.outlook.assumptions import Assumption
from assistant.outlook.replay import Planting, Replay
from assistant.outlook.replay.assumptions import assumptions
from assistant.outlook.replay.scores import Score, Scores
from assistant.outlook.replay.standing import shortfalls, summary
from assistant.outlook.replay.yardstick import View

TITLES = {
    View.HARMLESS: "If a light frost does no harm to a crop dug promptly",
    View.HURTS: "If any frost on the vines costs keeping",
}
WIDEST_NAME = 22
PLAIN_YEAR = 2031  # any year without a leap day


def replay_lines(played: Replay, rulebook: Rulebook) -> Iterator[Line]:
    """The whole page: who does best, a table for each view, and what it rests on."""
    planted = _short(played.planting.on.in_year(PLAIN_YEAR))
    years = f"{len(played.years)} autumns from {played.years[0]} to {played.years[-1]}"
    yield Line(f"{played.station}: {years}, {played.planting.variety} planted {planted}, seed {played.planting.seed}")
    yield BLANK
    yield from _standing(played.views)
    yield from _tables(played.views, played.planting)
    if played.weekends:
        yield BLANK
        yield Line("For growers who can dig at weekends only", "headline")
        yield from _standing(played.weekends, "")
        yield from _tables(played.weekends, played.planting)
    yield from listed("Left out", [f"{year}: {why}." for year, why in played.skipped.items()])
    yield from listed("What this rests on", [_credited(each) for each in _assumed(played, rulebook)])
    yield from listed("Sources", _sources(played, rulebook))


def _standing(views: Sequence[Scores], role: str = "headline") -> Iterator[Line]:
    yield Line(summary(views), role)
    short = list(shortfalls(views))
    yield Line("The assistant falls short:" if short else "It falls short of no rule of thumb in any other count.")
    yield from (Line(words, indent=2, bullet="- ") for words in short)


def _tables(views: Sequence[Scores], planting: Planting) -> Iterator[Line]:
    for view in views:
        yield BLANK
        yield Line(TITLES[view.frost], "section")
        heads = ("worth", "worst tenth", "hurt", "lost", "dug", "walks", "hills")
        yield Line(_row("", heads), "quiet", indent=2)
        yield from (Line(_row(score.name, _cells(score, planting)), indent=2) for score in view.policies)


def _row(name: str, cells: Sequence[str]) -> str:
    widths = (6, 11, 4, 4, 6, 5, 5)
    padded = "  ".join(f"{cell:>{width}}" for cell, width in zip(cells, widths, strict=True))
    return f"{name:.<{WIDEST_NAME}} {padded}" if name else f"{' ' * WIDEST_NAME} {padded}"


def _cells(score: Score, planting: Planting) -> tuple[str, ...]:
    dug = planting.on.in_year(PLAIN_YEAR) + timedelta(days=round(score.day_dug_median))
    return (
        _percent(score.value_mean),
        _percent(score.value_p10),
        str(score.crops_hurt),
        str(score.crops_lost),
        _short(dug),
        f"{score.visits_mean:.1f}",
        f"{score.hills_mean:.1f}",
    )


def _percent(share: float | None) -> str:
    return "-" if share is None else f"{share:.1%}"


def _short(day: date) -> str:
    return f"{day:%b} {day.day}"


def _assumed(played: Replay, rulebook: Rulebook) -> list[Assumption]:
    days = rulebook.tables["varieties"].rows[played.planting.variety].values["days"]
    return assumptions(played.planting.wanted, days)


def _credited(assumption: Assumption) -> str:
    return f"{assumption.says} ({'; '.join(assumption.sources)})"


def _sources(played: Replay, rulebook: Rulebook) -> list[str]:
    """The rulebook's sources among those that are cited."""
    cited = dict.fromkeys(source for each in _assumed(played, rulebook) for source in each.sources)
    known = [rulebook.sources[name] for name in cited if name in rulebook.sources]
    return [f"{source.id}: {source.title}, {source.year} ({source.how.value})" for source in known]


def replay_json(played: Replay, rulebook: Rulebook) -> dict[str, object]:
    """Values as shares of hindsight, days after planting; the keys are explained in `digday replay --help`."""
    planting = played.planting
    return {
        "station": played.station,
        "rulebook": {"name": rulebook.name, "version": rulebook.version, "digest": rulebook.digest},
        "planted": str(planting.on),
        "variety": planting.variety,
        "wanted": [planting.wanted.low, planting.wanted.high],
        "seed": planting.seed,
        "autumns": len(played.years),
        "years": list(played.years),
        "skipped": {str(year): why for year, why in played.skipped.items()},
        "views": [_view(view) for view in played.views],
        "weekends": None if played.weekends is None else [_view(view) for view in played.weekends],
        "assumptions": [{"says": says, "sources": list(sources)} for says, sources in _assumed(played, rulebook)],
    }


def _view(view: Scores) -> dict[str, object]:
    return {"frost": view.frost.value, "policies": [_policy(score) for score in view.policies]}


def _policy(score: Score) -> dict[str, object]:
    return {name: round(value, 4) if isinstance(value, float) else value for name, value in score._asdict().items()}
