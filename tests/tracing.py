"""Walks an answer as it is written, and finds the figures that nothing explains.

A figure is a quantity, an amount of money, a number, a moment or a length of time. Its record
explains it by `trace`, or by the entry of `traces` under its name; what lies inside an explained
field without traces of its own is explained with it.
"""

import re
from collections.abc import Iterator
from typing import Any

_TEXT_FIGURE = re.compile(
    r"-?[0-9]+(\.[0-9]+)?|-?P[0-9TDHMS.]+|[0-9]{4}-[0-9]{2}-[0-9]{2}(T[0-9:.]+([+-][0-9:]+|Z))?"
)
_TRACES = ("trace", "traces")


def unexplained(value: Any, path: str = "", *, explained: bool = False) -> Iterator[str]:
    """Paths of figures; `[]` stands for any place in a list."""
    if is_figure(value):
        if not explained:
            yield path
    elif isinstance(value, dict):
        inside = explained or "trace" in value
        traces = value.get("traces")
        for name, one in value.items():
            if name not in _TRACES:
                by_name = inside if traces is None else name in traces or _is_nothing(one)
                yield from unexplained(one, f"{path}.{name}".lstrip("."), explained=by_name)
    elif isinstance(value, list):
        for one in value:
            yield from unexplained(one, f"{path}[]", explained=explained)


def is_figure(value: Any) -> bool:
    if isinstance(value, dict):
        return value.keys() in ({"value", "unit"}, {"amount", "currency"})
    if isinstance(value, str):
        return _TEXT_FIGURE.fullmatch(value) is not None
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_nothing(value: Any) -> bool:
    """What is not there needs no explanation; a record says so of its traces."""
    measured = value["value"] if isinstance(value, dict) and "value" in value else value
    return is_figure(value) and measured == 0


def rules_named(value: Any) -> Iterator[str]:
    """Of all traces, those of the figures that were traced among them."""
    if isinstance(value, dict):
        for name, one in value.items():
            if name == "trace":
                yield one["rule"]
            elif name == "traces":
                yield from (trace["rule"] for trace in one.values())
            yield from rules_named(one)
    elif isinstance(value, list):
        for one in value:
            yield from rules_named(one)
