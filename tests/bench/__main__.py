"""Every benchmark, one after another, or those that are named: `python tests/bench [--short] [NAME ...]`.

Prints one JSON line for each figure, then the same as a table. Figures are ratios measured side by
side in one run where they can be; absolute ones hold for this machine in this minute.
"""

import importlib
import json
import os
import sys
from pathlib import Path

from rich.console import Console
from rich.table import Table

NAMES = (
    "http",
    "growth",
    "packs",
    "stored",
    "documents",
    "catalogue",
    "prices",
    "repricing",
    "watching",
    "limits",
    "service",
)
SHORT = "--short"


def main(chosen: list[str]) -> None:
    if SHORT in chosen:
        chosen = [one for one in chosen if one != SHORT]
        os.environ["BENCH_SHORT"] = "1"
    unknown = sorted(set(chosen) - set(NAMES))
    if unknown:
        raise SystemExit(f"no benchmark named {', '.join(unknown)}; there are {', '.join(NAMES)}")
    tests = str(Path(__file__).parents[1])  # where the tests' database server is, and their key
    sys.path.append(tests)
    os.environ["PYTHONPATH"] = os.pathsep.join([tests, *filter(None, sys.path)])
    table = Table("figure", "value", "unit")
    for name in chosen or NAMES:
        for figure in importlib.import_module(f"bench_{name}").figures():
            print(json.dumps(figure), flush=True)
            table.add_row(figure["name"], f"{figure['value']:.4g}", figure["unit"])
    table.columns[1].justify = "right"
    Console().print(table)


if __name__ == "__main__":
    main(sys.argv[1:])
