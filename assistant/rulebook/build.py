"""Files -> Rulebook: every file is read and held against its shape, then what they say against each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from assistant.model.conditions import Concluded, Condition, leaves
from assistant.model.place import BadInput, Place, Problem
from assistant.model.rules import ADVICE, Caution, Rule, Rulebook, Several
from assistant.rulebook.case_grammar import SOURCES_FILE
from assistant.rulebook.checking import Checker
from assistant.rulebook.documents import Document, load
from assistant.rulebook.grammar import RULEBOOK
from assistant.rulebook.grammar_words import FORMAT
from assistant.rulebook.names import near, quoted
from assistant.rulebook.rules import (
    build_advice,
    build_cautions,
    build_disagreements,
    build_findings,
    build_rules,
    build_sources,
)
from assistant.rulebook.signs import build_measures, build_signs, build_tables
from assistant.rulebook.view import Report, View
from assistant.rulebook.vocabulary import SECTIONS, Vocabulary

SOURCES_NAME = "sources.yaml"


def build(folder: Path) -> tuple[Rulebook | None, tuple[Problem, ...]]:
    """The rulebook of a folder and all its problems, sorted; with problems there is no rulebook."""
    documents, problems = _read_all(_files(folder))
    newer = [problem for document in documents for problem in _newer(document)]
    if newer:
        return None, tuple(newer)
    problems += _misnamed(folder)
    report = Report(problems)
    views = [View(document, document.root, report) for document in documents]
    for view in views:
        _check_shape(view)
    if len(documents) < len(_files(folder)):
        return None, _sorted(problems)  # a file that cannot be read may declare any name
    rulebook = _assemble(folder, views, report)
    return (None if problems else rulebook), _sorted(problems)


def _sorted(problems: Sequence[Problem]) -> tuple[Problem, ...]:
    return tuple(sorted(problems, key=lambda problem: (problem.place, problem.code, problem.message)))


def _files(folder: Path) -> tuple[Path, ...]:
    """The YAML files of a folder and its crop's sources, sorted by file name."""
    shared = folder.parent / SOURCES_NAME if folder.name not in ("", "..") else folder / ".." / SOURCES_NAME
    found = [path for path in folder.iterdir() if path.suffix == ".yaml" and not path.name.startswith(".")]
    return tuple(sorted([*found, *([shared] if shared.is_file() else [])], key=lambda path: (path.name, str(path))))


def _misnamed(folder: Path) -> Iterator[Problem]:
    """Files that an author may think are read."""
    for path in folder.glob("*.yml"):
        message = "This file is not read: the files of a rulebook end in .yaml."
        yield Problem("bad-file-name", Place(str(path)), message, f"Call it {path.stem}.yaml, or move it away.")


def _read_all(paths: Sequence[Path]) -> tuple[list[Document], list[Problem]]:
    documents: list[Document] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            document, found = load(path)
        except BadInput as error:
            problems += error.problems
        else:
            documents.append(document)
            problems += found
    return documents, problems


def _newer(document: Document) -> Iterator[Problem]:
    """The one problem of a rulebook written for a later program: its other oddities may well be right."""
    node = (document.root.entries or {}).get("format")
    if node is not None and isinstance(node.data, int) and node.data > FORMAT:
        message = f"This rulebook needs a newer digday: its format is {node.data}, and this one reads {FORMAT}."
        yield document.problem("newer-format", document.at(node), message, "Update digday.")


def _check_shape(view: View) -> None:
    is_sources = Path(view.document.file).name == SOURCES_NAME
    checker = Checker(view.document, view.report.problems, view.report.broken)
    checker.check(view.node, SOURCES_FILE if is_sources else RULEBOOK, "The file")


def _assemble(folder: Path, views: Sequence[View], report: Report) -> Rulebook:
    words = _vocabulary(views)
    heading, several = _heading(folder, views, report), _several(views)
    for step in (
        build_sources,
        build_disagreements,
        build_tables,
        build_signs,
        build_measures,
        build_findings,
        build_advice,
    ):
        step(words)
    rules, cautions = build_rules(words), build_cautions(words)
    _check_findings(rules, cautions, words)
    _check_circles(rules, words)
    return Rulebook(
        name=heading.text("rulebook"),
        title=heading.text("title"),
        version=heading.text("version"),
        about=heading.text("about"),
        signs=words.signs,
        measures=words.measures,
        tables=words.tables,
        findings=words.findings,
        advice=words.advice,
        several=several,
        rules=rules,
        cautions=cautions,
        disagreements=words.disagreements,
        sources=words.sources,
        raw=tuple(view.document.raw for view in views),
        place=heading.place,
    )


def _vocabulary(views: Sequence[View]) -> Vocabulary:
    words = Vocabulary()
    for view in views:
        words.unclear.update(_unclear(view))
        for section in SECTIONS:
            entries = view.within(section)
            if entries is not None:
                words.declare(section, entries.entries())
        advice = view.within("advice")
        kinds = advice.within("kinds") if advice else None
        if kinds is not None:
            # A second list of kinds is one problem, not one for each kind.
            words.declare("advice", [item for item in kinds.entries() if item[0] not in words.declared["advice"]])
    return words


def _unclear(view: View) -> Iterator[str]:
    """The sections of a file whose names cannot be made out: misspelt ones, and those that are no mapping."""
    sections = (*SECTIONS, "advice")
    for name, entry in view.entries():
        if name not in RULEBOOK.keys and name != "sources":
            yield near(name, sections) or ""
        elif name in sections and entry.node.entries is None:
            yield name
    if view.node.entries is None:
        yield from sections


def _heading(folder: Path, views: Sequence[View], report: Report) -> View:
    """The file with the rulebook's name; a rulebook has exactly one."""
    headings = [view for view in views if view.has("rulebook")]
    for extra in headings[1:]:
        name = extra.within("rulebook")
        assert name is not None
        message = f"The rulebook's name stands here a second time; the first is in {headings[0].document.file}."
        name.note("duplicate-key", message, "Delete the heading of one of the files.", at_key=True)
    if not headings:
        hint = "Add rulebook, title, version, format and about to one of its files."
        report.problems.append(
            Problem("no-heading", Place(str(folder)), "No file of this folder names the rulebook.", hint)
        )
    return headings[0] if headings else views[0]


def _several(views: Sequence[View]) -> Several:
    """What several pieces of advice mean; a rulebook says so in one place."""
    sections = [advice for view in views if (advice := view.within("advice")) is not None]
    for extra in sections[1:]:
        message = f"The advice stands here a second time; the first is at {sections[0].place}."
        extra.note(
            "duplicate-key",
            message,
            "Move all kinds of advice into one file, in the order in which they win.",
            at_key=True,
        )
    if not sections:
        heading = views[0]
        heading.note(
            "missing-key",
            "No file of this rulebook lists its kinds of advice.",
            "Add advice: {several: …, kinds: {…}}.",
        )
    said = sections[0].text("several") if sections else ""
    return Several(said) if said else Several.MUST_AGREE


def _conditions(rules: Sequence[Rule], cautions: dict[str, Caution]) -> Iterator[tuple[str, str, Condition]]:
    for rule in rules:
        yield "rules", rule.name, rule.when
    for caution in cautions.values():
        yield "cautions", caution.name, caution.when


def _check_findings(rules: Sequence[Rule], cautions: dict[str, Caution], words: Vocabulary) -> None:
    """A condition on what no rule concludes would stay open for ever."""
    concluded = {(rule.concludes, rule.value) for rule in rules}
    complete = all(rule.concludes for rule in rules)
    for section, name, condition in _conditions(rules, cautions):
        when = words.declared[section][name].within("when")
        for leaf in leaves(condition) if complete and when is not None else ():
            if isinstance(leaf, Concluded) and not any((leaf.finding, value) in concluded for value in leaf.values):
                assert when is not None
                what = "advice" if leaf.finding == ADVICE else f"the finding {quoted(leaf.finding)}"
                values = " or ".join(sorted(leaf.values))
                message = f"{quoted(name)} waits for {what} to be {values}, which no rule concludes."
                when.note("never-concluded", message, "Add a rule that concludes it, or take it out.", at_key=True)


def _check_circles(rules: Sequence[Rule], words: Vocabulary) -> None:
    """Findings that rest on each other in a circle could never be concluded in order."""
    needs: dict[str, set[str]] = {}
    for rule in rules:
        below = needs.setdefault(rule.concludes, set())
        below.update(leaf.finding for leaf in leaves(rule.when) if isinstance(leaf, Concluded))
    in_circle = [name for name in needs if name in _reachable(name, needs)]
    for finding in in_circle[:1]:
        rule = next(rule for rule in rules if rule.concludes == finding and _rests_on(rule, in_circle))
        when = words.declared["rules"][rule.name].within("when")
        assert when is not None
        message = f"These findings rest on each other in a circle: {', '.join(sorted(in_circle))}."
        when.note("circular-findings", message, f"Let {quoted(rule.name)} rest on signs instead.", at_key=True)


def _rests_on(rule: Rule, findings: Sequence[str]) -> bool:
    return any(isinstance(leaf, Concluded) and leaf.finding in findings for leaf in leaves(rule.when))


def _reachable(start: str, needs: dict[str, set[str]]) -> set[str]:
    """Every finding that a finding rests on, directly or not."""
    found: set[str] = set()
    waiting = list(needs[start])
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += needs.get(name, ())
    return found
