"""Where two areas meet, in words for the site."""

from collections.abc import Collection, Sequence

from filmbuild.pipeline.results import AreaTakeoff

_MOST_NAMED = 3


class Borders:
    """Doorways and joined edges between areas, from either side."""

    def __init__(self, areas: Sequence[AreaTakeoff]) -> None:
        self._found: dict[str, dict[str, str]] = {}
        for area in areas:
            for run in area.runs:
                if run.into is not None:
                    where = f"between {area.id} and {run.into}"
                    words = f"the edge {where}"
                    if run.doorway is not None:
                        words = f"doorway {run.doorway} {where}"
                    self._found.setdefault(area.id, {}).setdefault(run.into, words)
                    self._found.setdefault(run.into, {}).setdefault(area.id, words)
        self._order = {area.id: area.placing_order for area in areas}

    def between(self, inside: Collection[str], last: str) -> str:
        """Where a section goes over into areas that are placed after its last one."""
        until = self._order[last]
        words = [
            text
            for name in inside
            for other, text in self._found.get(name, {}).items()
            if self._order.get(other, 0) > until
        ]
        words = sorted(set(words))
        if not words:
            return f"the walls of {last}: no floor runs on from here"
        shown = " and ".join(words[:_MOST_NAMED])
        return (
            shown if len(words) <= _MOST_NAMED else f"{shown} and {len(words) - _MOST_NAMED} more"
        )
