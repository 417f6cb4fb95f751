"""How time and memory grow with the rulebook: to build the remainder, choose, decide, run the engine and prove.

Run by hand: `python tests/benchmarks/growth.py FOLDER` measures made-up rulebooks from 10 signs and 40 rules
to 120 signs and 600 rules, knit loosely to tightly, each in a process of its own with a limit on time and
memory. Times are of the processor, so that other work on the machine counts little. Writes growth.csv,
growth.md and growth.svg to the folder and prints the table. Exit 1 when a size was cut off by the limits:
too large must be said in so many words, by `TooLarge`, before that. Of a rulebook that does not fit the
table tells how long it took to say so, and how long choosing takes by the open rules instead.
"""

from __future__ import annotations

import argparse
import csv
import json
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from random import Random
from statistics import mean, median, quantiles
from typing import Any, NamedTuple

from large_rulebooks import ON, SIZES, Size, garden, known_with, large_rulebook

from assistant.inference import Evaluation, evaluate, run
from assistant.interview.course import Course
from assistant.interview.diagrams import TooLarge, nodes_below
from assistant.interview.remainder import Ending, Remainder, whole_remainder
from assistant.measures import domains
from assistant.model.derivation import Derivation
from assistant.model.readings import Known, Reading

Row = dict[str, Any]
GARDENS = 200
VISITS = 5
SECONDS_OF_VISITS = 15.0
MEGABYTE = 1 << 20


class Series(NamedTuple):
    """Rulebooks that differ in size alone."""

    name: str
    tangle: float
    reach: int = 1


SERIES = (
    Series("loosely knit", 0.1),
    Series("knit", 0.2),
    Series("knit as tightly as the shipped rulebook", 0.3),
    Series("looking anywhere", 0.2, reach=100),
)
"""The shipped rulebook names something from outside a rule's own finding 17 times in 100; at 0.3 these do too."""


class Stages:
    """What is measured of one rulebook, stage by stage."""

    def __init__(self, size: Size, seed: int) -> None:
        self.rulebook = large_rulebook(size, seed)
        self.domains = domains(self.rulebook, ON)
        random = Random(seed)
        self.gardens = [garden(self.rulebook, random) for _ in range(GARDENS)]

    @cached_property
    def readings(self) -> list[dict[str, Reading]]:
        return [{name: known.reading for name, known in garden.items()} for garden in self.gardens]

    @cached_property
    def remainder(self) -> Remainder:
        return whole_remainder(self.rulebook, known_with(self.rulebook, {}), self.domains)

    def build(self) -> Row:
        """The remainder of the whole rulebook."""
        before, begun = _peak(), time.process_time()
        try:
            rest = self.remainder
        except TooLarge as limit:
            return {"build_s": time.process_time() - begun, "build_mb": _peak() - before, "too_large": str(limit)}
        taken = time.process_time() - begun
        made, left = len(rest.diagrams.nodes), sum(1 for _ in nodes_below(rest.root))
        return {"build_s": taken, "build_mb": _peak() - before, "nodes_made": made, "nodes": left}

    def choose(self) -> Row:
        """Every choice of a question in a few visits; exact ones where the remainder fits."""
        taken: list[float] = []
        asked: list[int] = []
        begun = time.perf_counter()
        for answers in self.gardens[:VISITS]:
            if time.perf_counter() - begun > SECONDS_OF_VISITS:
                break
            times = list(self._visit(answers))
            taken += times
            asked.append(len(times) - 1)
        return {"choose_ms": median(taken), "choose_p95_ms": quantiles(taken, n=20)[-1], "questions": mean(asked)}

    def _visit(self, answers: Mapping[str, Known]) -> Iterator[float]:
        """The milliseconds of each choice, until no question is left."""
        given: dict[str, Known] = {}
        while True:
            known = known_with(self.rulebook, given)
            begun = time.process_time()
            name = Course(self.rulebook, known, self.domains).next
            yield (time.process_time() - begun) * 1000
            if name is None:
                return
            given[name] = answers[name]

    def decide(self) -> Row:
        """A decision along the remainder, by the plain evaluator and by the engine, and whether all agree."""
        run(self.rulebook, self.gardens[0], self.domains)  # compiles the rules
        evaluated, evaluating = _timed(lambda readings: evaluate(self.rulebook, readings, self.domains), self.readings)
        derived, running = _timed(lambda known: run(self.rulebook, known, self.domains), self.gardens)
        due = [_ending(found) for found in evaluated]
        differing = sum(_ending(found) != end for found, end in zip(derived, due, strict=True))
        found = {"evaluate_us": evaluating, "engine_us": running}
        try:
            decided, deciding = _timed(self.remainder.decide, self.readings)
        except TooLarge:
            return {**found, "differing": differing}
        differing += sum(mine != end for mine, end in zip(decided, due, strict=True))
        return {"decide_us": deciding, **found, "differing": differing}

    def prove(self) -> Row:
        """All proofs of `rulebook check`."""
        from assistant.proofs import prove

        begun = time.process_time()
        report = prove(self.rulebook)
        taken = time.process_time() - begun
        counted = {"proved": len(report.proved), "unproved": len(report.unproved)}
        return {"prove_s": taken, **counted} if report.proved else counted


STAGES = ("build", "choose", "decide", "prove")


def _ending(found: Evaluation | Derivation) -> Ending:
    return Ending(found.advice, bool(found.conflicts))


def _timed(decide: Callable[[Any], Any], cases: Sequence[Any]) -> tuple[list[Any], float]:
    """What comes of the cases, and the microseconds each takes."""
    begun = time.process_time()
    found = [decide(case) for case in cases]
    return found, (time.process_time() - begun) / len(cases) * 1e6


def _peak() -> float:
    """The most memory this process has held, in megabytes."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / MEGABYTE


def measure_here(size: Size, seed: int) -> None:
    """Prints a line of JSON for each stage, so that nothing is lost when a later one is cut off."""
    stages = Stages(size, seed)
    for stage in STAGES:
        print(json.dumps(getattr(stages, stage)()), flush=True)


def measure(size: Size, seed: int, seconds: float, megabytes: int) -> Row:
    """The stages of one rulebook in a process of its own; what was cut off by the limits is named under `cut_off`."""
    command = [sys.executable, __file__, "--one", json.dumps([*size]), str(seed)]

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (megabytes * MEGABYTE,) * 2)

    child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, preexec_fn=limited)
    try:
        lines, said = child.communicate(timeout=seconds)
    except subprocess.TimeoutExpired:
        child.kill()
        lines, said = child.communicate()[0], f"more than {seconds:g} s"
    rows = [json.loads(line) for line in lines.splitlines()]
    found: Row = {key: value for row in rows for key, value in row.items()}
    if len(rows) < len(STAGES):
        found["cut_off"] = f"{STAGES[len(rows)]}: {(said.strip().splitlines() or ['ended early'])[-1]}"
    return found


COLUMNS = {
    "nodes_made": "nodes made",
    "nodes": "nodes left",
    "build_s": "build, s",
    "build_mb": "build, MB",
    "choose_ms": "choose, ms",
    "choose_p95_ms": "choose p95, ms",
    "questions": "questions asked",
    "decide_us": "decide, µs",
    "evaluate_us": "evaluator, µs",
    "engine_us": "engine, µs",
    "prove_s": "prove, s",
}


SECONDS = {"prove_s": 1, "build_s": 1, "choose_p95_ms": 1e-3, "engine_us": 1e-6, "evaluate_us": 1e-6, "decide_us": 1e-6}
"""What is plotted, and how many seconds its unit has."""


def summary(series: Series, size: Size, rows: Sequence[Row]) -> Row:
    """One line of the table: the median over the rulebooks of a size, and how many of them fit."""
    line: Row = {"series": series.name, "signs": size.signs, "rules": size.rules}
    line["fit"] = f"{sum('nodes' in row for row in rows)}/{len(rows)}"
    for key in COLUMNS:
        values = [row[key] for row in rows if key in row]
        line[key] = median(values) if values else None
    line["differing"] = sum(row.get("differing", 0) for row in rows)
    line["too_large"] = "; ".join(sorted({row["too_large"] for row in rows if "too_large" in row}))
    line["cut_off"] = "; ".join(row["cut_off"] for row in rows if "cut_off" in row)
    return line


def markdown(lines: Sequence[Row]) -> str:
    """The table as people read it."""
    heads = ("rulebooks", "signs", "rules", "fit", *COLUMNS.values(), "answers that differ")
    rows = [heads, ("---",) * len(heads), *map(_cells, lines)]
    said = {(line["series"], line["cut_off"] or line["too_large"]): line for line in reversed(lines)}
    notes = [f"- {series}, from {line['rules']} rules: {words}" for (series, words), line in said.items() if words]
    return "\n".join(["| " + " | ".join(row) + " |" for row in rows] + ["", *notes, ""])


def _cells(line: Row) -> tuple[str, ...]:
    numbers = ("–" if (its := line[key]) is None else f"{its:,.0f}" if its >= 100 else f"{its:.3g}" for key in COLUMNS)
    return (line["series"], str(line["signs"]), str(line["rules"]), line["fit"], *numbers, str(line["differing"]))


def plot(lines: Sequence[Row], file: Path) -> None:
    """Time by number of rules, one panel a series, on a logarithmic scale of seconds."""
    import matplotlib

    matplotlib.use("svg")
    from matplotlib import pyplot

    figure, panels = pyplot.subplots(1, len(SERIES), figsize=(4 * len(SERIES), 4.5), sharey=True, squeeze=False)
    for panel, series in zip(panels[0], SERIES, strict=True):
        mine = [line for line in lines if line["series"] == series.name]
        for (key, seconds), marker in zip(SECONDS.items(), "osv^Dx", strict=True):
            points = {line["rules"]: line[key] * seconds for line in mine if line[key]}
            panel.plot([*points], [*points.values()], marker=marker, label=COLUMNS[key].partition(",")[0])
        panel.set(yscale="log", xlabel="rules", title=series.name)
        panel.grid(alpha=0.3)
    panels[0][0].set_ylabel("seconds")
    figure.legend(*panels[0][0].get_legend_handles_labels(), loc="lower center", ncols=len(SECONDS))
    figure.tight_layout(rect=(0, 0.08, 1, 1))
    figure.savefig(file)


def report(lines: Sequence[Row], folder: Path) -> None:
    """Writes the table, as CSV and for people, and the plot."""
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / "growth.csv").open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, lines[0].keys())
        writer.writeheader()
        writer.writerows(lines)
    (folder / "growth.md").write_text(markdown(lines), encoding="utf-8")
    plot(lines, folder / "growth.svg")


def main() -> int:
    """Measures every size of every series; 1 when one was cut off."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?", default=Path("growth"))
    parser.add_argument("--seconds", type=float, default=60, help="for one rulebook, all stages together")
    parser.add_argument("--megabytes", type=int, default=1500, help="of address space for one rulebook")
    parser.add_argument("--seeds", type=int, default=3, help="rulebooks of each size")
    parser.add_argument("--most-rules", type=int, default=SIZES[-1].rules)
    parser.add_argument("--one", nargs=2, help=argparse.SUPPRESS)
    chosen = parser.parse_args()
    if chosen.one:
        measure_here(Size(*json.loads(chosen.one[0])), int(chosen.one[1]))
        return 0
    lines = []
    for series in SERIES:
        for size in (size for size in SIZES if size.rules <= chosen.most_rules):
            knit = size._replace(tangle=series.tangle, reach=series.reach)
            rows = [measure(knit, seed, chosen.seconds, chosen.megabytes) for seed in range(1, chosen.seeds + 1)]
            lines.append(summary(series, size, rows))
            print(" | ".join(_cells(lines[-1])), lines[-1]["cut_off"], flush=True)
    report(lines, chosen.folder)
    print(markdown(lines))
    return int(any(line["cut_off"] for line in lines))


if __name__ == "__main__":
    sys.exit(main())
