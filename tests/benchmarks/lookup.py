"""How long a lookup takes: ranking every cause exactly and choosing the next look, against a general library.

    pip install pyagrum
    python tests/benchmarks/lookup.py

The general library is given the same network, evidence and targets (all causes) and does its exact inference;
it chooses no next look, so the comparison is in its favour. The two take turns in one run, and the ratio of
the medians is what counts. Without the library only our own times and how they grow are printed.
"""

import importlib.util
import sys
import time
from collections.abc import Callable
from multiprocessing import Process, Queue
from pathlib import Path
from queue import Empty
from statistics import median

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.diagnosis.made_up import random_knowledge
from walkabout.diagnosis.consult import consult
from walkabout.diagnosis.evidence import Table, number, said_yes, tabulate
from walkabout.diagnosis.next_check import next_check
from walkabout.diagnosis.situation import Answer, Situation

TIMES, SEEDS = 5, 3
DENSITIES = (6, 7, 8, 9)
"""Signs that a cause gives: the shipped knowledge has ten."""
PATIENCE = 60
"""Seconds after which the general library is stopped."""
SIZES = (
    (90, 110, 8, 12),
    (90, 110, 12, 12),
    (90, 110, 16, 12),
    (150, 170, 8, 12),
    (500, 1000, 8, 12),
    (500, 1000, 12, 20),
    (500, 1000, 16, 20),
    (500, 1000, 20, 20),
)
LINKS = 9
"""Signs that a cause gives, where growth is measured."""


def situation(table: Table, present: int, absent: int, seed: int) -> Situation:
    """Return signs of a few causes as there, and others as not there."""
    rng = np.random.default_rng(seed)
    there: list[str] = []
    while len(there) < present:
        column = rng.integers(len(table.causes) - 1)
        given = [table.signs[at] for at in np.flatnonzero(table.gives[:, column] > 0.3)]
        there += [sign for sign in given if sign not in there]
    there = there[:present]
    rest = [sign for sign in table.signs if sign not in there]
    gone = [rest[at] for at in rng.choice(len(rest), absent, replace=False)]
    return Situation(answers=(*(Answer(sign=one) for one in there), *(Answer(sign=one, present=False) for one in gone)))


def ours(table: Table, now: Situation) -> None:
    """Rank all causes and choose the next look."""
    numbered = number(table, now)
    next_check(table, now, numbered, numbered.solve())


def general(table: Table, now: Situation) -> tuple[Callable[[], list[float]], list[float]]:
    """Return the general library's inference on the same network, and our answer to hold it against."""
    import pyagrum as gum

    numbered = number(table, now)
    net = gum.BayesNet()
    for at, cause in enumerate(table.causes):
        net.add(gum.LabelizedVariable(cause, "", 2))
        net.cpt(cause).fillWith([1 - numbered.prior[at], numbered.prior[at]])
    there = zip(numbered.gives, numbered.leak, strict=True)
    rows = [(f"present{at}", gives, leak) for at, (gives, leak) in enumerate(there)]
    rows += [(f"absent{at}", *said_yes(table, one)) for at, one in enumerate(numbered.absent)]
    for name, gives, leak in rows:
        net.addNoisyORNet(gum.LabelizedVariable(name, "", 2), float(leak))
        for at in np.flatnonzero(gives):
            net.addWeightedArc(table.causes[at], name, float(gives[at]))

    def infer() -> list[float]:
        inference = gum.LazyPropagation(net)
        inference.setEvidence({name: int(name.startswith("present")) for name, _, _ in rows})
        inference.setTargets(set(table.causes))
        inference.makeInference()
        return [inference.posterior(cause)[1] for cause in table.causes]

    return infer, numbered.solve().on[0].tolist()


def timed(work: Callable[[], object]) -> float:
    """Return milliseconds."""
    begun = time.perf_counter()
    work()
    return (time.perf_counter() - begun) * 1000


def compare(links: int, seed: int, into: "Queue[tuple[float, float, float]]") -> None:
    """Put in our time, the library's, and the largest difference in any cause; runs as a process of its own."""
    table = tabulate(random_knowledge(90, 110, links, seed))
    now = situation(table, 8, 12, seed)
    infer, mine = general(table, now)
    ours(table, now)
    its, our = [], []
    for _ in range(TIMES):
        our.append(timed(lambda: ours(table, now)))
        its.append(timed(infer))
    far = max(abs(one - other) for one, other in zip(infer(), mine, strict=True))
    into.put((median(our), median(its), far))


def beside_the_library() -> None:
    """Print the ratios at 90 causes, 110 signs, 8 present and 12 absent."""
    for links in DENSITIES:
        found = []
        for seed in range(SEEDS):
            into: Queue[tuple[float, float, float]] = Queue()
            process = Process(target=compare, args=(links, seed, into))
            process.start()
            try:
                found.append(into.get(timeout=PATIENCE))
            except Empty:
                process.kill()
            process.join()
        stopped = f"; stopped after {PATIENCE} s: {SEEDS - len(found)} of {SEEDS}" if len(found) < SEEDS else ""
        if not found:
            print(f"{links} signs a cause: the library did not finish in {PATIENCE} s on any of {SEEDS} networks")
            continue
        mine, its = median(one for one, _, _ in found), median(one for _, one, _ in found)
        far = max(one for _, _, one in found)
        print(
            f"{links} signs a cause: ranking and next look {mine:.1f} ms, the library's ranking alone {its:.0f} ms: "
            f"{its / mine:.0f} times; largest difference {far:.0e}{stopped}"
        )


def growth() -> None:
    """Print how the time grows."""
    print("causes signs present absent   ranking   next look   whole answer (ms)")
    for causes, signs, present, absent in SIZES:
        ranking, looking, whole = [], [], []
        for seed in range(SEEDS):
            table = tabulate(random_knowledge(causes, signs, LINKS, seed))
            now = situation(table, present, absent, seed)
            numbered = number(table, now)
            solved = numbered.solve()
            ranking.append(timed(lambda: number(table, now).solve()))  # noqa: B023
            looking.append(timed(lambda: next_check(table, now, numbered, solved)))  # noqa: B023
            whole.append(timed(lambda: consult(table, now)))  # noqa: B023
        print(
            f"{causes:6} {signs:5} {present:7} {absent:6}"
            f" {median(ranking):9.1f} {median(looking):11.1f} {median(whole):11.1f}"
        )


if __name__ == "__main__":
    if importlib.util.find_spec("pyagrum"):
        beside_the_library()
    else:
        print("pyagrum is not installed: no comparison")
    growth()
