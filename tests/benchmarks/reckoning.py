"""How long a reckoning takes: each one once loaded, and a whole process against a bare click program.

    python tests/benchmarks/reckoning.py

The processes take turns, and the ratio of the medians is what counts. A bare click program starts Python,
imports click and prints one line.
"""

import shlex
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from walkabout.reckon.catalogue import every
from walkabout.reckon.read import reckon, split, take

ROUNDS, TIMES = 40, 200
BARE = """
import click
@click.command()
@click.argument("words", nargs=-1)
def main(words):
    click.echo("ready")
main()
"""
CALLS = {
    "vpd air=24 rh=60": ["vpd", "air=24", "rh=60"],
    "vpd air=75F rh=60 --json": ["vpd", "air=75F", "rh=60", "--json"],
    "oxygen temperature=295K (pint)": ["oxygen", "temperature=295K"],
    "recipe volume=60 name=lettuce": ["recipe", "volume=60", "name=lettuce"],
    "(the list of all)": [],
}


def main() -> None:
    """Print the slowest reckonings, and the ratios."""
    took = []
    for one in every():
        taken = take(one, split(shlex.split(one.example)))
        reckon(one, taken)
        begun = time.perf_counter()
        for _ in range(TIMES):
            reckon(one, taken)
        took.append(((time.perf_counter() - begun) / TIMES * 1000, one.name))
    took.sort(reverse=True)
    print(f"{len(took)} reckonings, once loaded; median {median(ms for ms, _ in took):.3f} ms, the slowest:")
    for ms, name in took[:6]:
        print(f"  {name:20} {ms:.3f} ms")
    with tempfile.TemporaryDirectory() as folder:
        bare = Path(folder) / "bare.py"
        bare.write_text(BARE, encoding="utf-8")
        programs = {"bare click": [sys.executable, str(bare)]}
        start = "from walkabout.cli import main; import sys; sys.argv[0] = 'walkabout'; main()"
        programs |= {name: [sys.executable, "-c", start, "reckon", *words] for name, words in CALLS.items()}
        times: dict[str, list[float]] = {name: [] for name in programs}
        for _ in range(ROUNDS):
            for name, words in programs.items():
                begun = time.perf_counter()
                subprocess.run(words, check=True, stdout=subprocess.DEVNULL)
                times[name].append(time.perf_counter() - begun)
    base = median(times["bare click"])
    print(f"\nwhole processes, medians of {ROUNDS}, against a bare click program ({base * 1000:.0f} ms):")
    for name, seconds in list(times.items())[1:]:
        print(f"  {name:34} {median(seconds) * 1000:4.0f} ms  ratio {median(seconds) / base:.2f}")


if __name__ == "__main__":
    main()
