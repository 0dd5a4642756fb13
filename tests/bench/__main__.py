"""Every benchmark, one after another: `python tests/bench [http|growth|packs|stored|documents|catalogue|prices|repricing|watching|limits ...]`.

Prints one JSON line for each figure, then the same as a table. Figures are ratios measured side by
side in one run where they can be; absolute ones hold for this machine in this minute.
"""

import importlib
import json
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
)


def main(chosen: list[str]) -> None:
    unknown = sorted(set(chosen) - set(NAMES))
    if unknown:
        raise SystemExit(f"no benchmark named {', '.join(unknown)}; there are {', '.join(NAMES)}")
    sys.path.append(str(Path(__file__).parents[1]))  # where the tests' database server is
    table = Table("figure", "value", "unit")
    for name in chosen or NAMES:
        for figure in importlib.import_module(f"bench_{name}").figures():
            print(json.dumps(figure), flush=True)
            table.add_row(figure["name"], f"{figure['value']:.4g}", figure["unit"])
    table.columns[1].justify = "right"
    Console().print(table)


if __name__ == "__main__":
    main(sys.argv[1:])
