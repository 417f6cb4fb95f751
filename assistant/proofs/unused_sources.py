"""A source that is listed and that nobody cites: no rulebook that shares the list rests on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from assistant.model.place import BadInput
from assistant.model.rules import Rulebook, Source
from assistant.proofs.gardens import Gardens
from assistant.proofs.report import Check, Flaw
from assistant.rulebook import read_rulebook


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """One flaw for each source of this rulebook's own list, or of the list it shares, that is cited nowhere."""
    rulebook = gardens.rulebook
    home = Path(rulebook.place.file).parent
    cited = set(_cited(rulebook))
    uncited = [source for source in rulebook.sources.values() if source.id not in cited]
    yield from _flaws(source for source in uncited if Path(source.place.file).parent == home)
    shared = [source for source in uncited if Path(source.place.file).parent == home.parent]
    if shared:
        try:
            elsewhere = {source for folder in _beside(home) for source in _cited(read_rulebook(str(folder)))}
        except BadInput as error:
            yield f"a rulebook that shares the sources cannot be read: {error.problems[0].one_line()}"
            return
        yield from _flaws(source for source in shared if source.id not in elsewhere)


def _flaws(sources: Iterable[Source]) -> Iterator[Flaw]:
    for source in sources:
        hint = "Take it out of the list, or cite it where a rule rests on it."
        yield Flaw("source-unused", source.id, source.place, f"Nothing cites the source {source.id}.", hint)


def _beside(home: Path) -> Iterator[Path]:
    """The folders that share the list of sources with a rulebook's own."""
    for folder in sorted(home.parent.iterdir()):
        if folder.is_dir() and folder.name != home.name and any(folder.glob("*.yaml")):
            yield folder


def _cited(rulebook: Rulebook) -> Iterator[str]:
    """Every source that something in a rulebook rests on."""
    rows = (row for table in rulebook.tables.values() for row in table.rows.values())
    sides = (side for disagreement in rulebook.disagreements.values() for side in disagreement.sides)
    for group in (rulebook.rules, rulebook.cautions.values(), rulebook.signs.values(), rows, sides,
                  rulebook.directions.values(), rulebook.silenced.values()):  # fmt: skip
        for item in group:
            yield from item.sources


CHECK = Check("Every source in the list is cited.", find)
