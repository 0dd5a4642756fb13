"""The pages as they are served: each is made once, when it is first asked for."""

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import NamedTuple

from jinja2 import Environment, PackageLoader, StrictUndefined

from filmbuild.edge.problems import KINDS, ProblemKind
from filmbuild.handbook import outline
from filmbuild.handbook.markdown import Written, written
from filmbuild.handbook.outline import PARTS, PROBLEMS, REFERENCE, Entry

_FILES = files("filmbuild.handbook")


class Page(NamedTuple):
    """HTML, and the policy that lets it use its own style sheet and the service's own pictures."""

    content: str
    policy: str


def text_of(name: str) -> str:
    """The page as it was written, in Markdown."""
    return _FILES.joinpath("pages", f"{name}.md").read_text("utf-8")


@cache
def page(name: str) -> Page:
    """Raises KeyError where the handbook has none of this name."""
    entry = _entries()[name]
    found = written(text_of(name), name)
    style = _style()
    content = (
        _templates()
        .get_template("page.html")
        .render(
            entry=entry,
            page=found,
            kind=_kind(name),
            kinds=KINDS.values() if name == "errors" else (),
            marks=_marks(found),
            parts=PARTS,
            inside="errors" if _kind(name) else name,
            reference=REFERENCE,
            style=style,
            **_neighbours(entry),
        )
    )
    digest = b64encode(sha256(style.encode()).digest()).decode()
    policy = (
        f"default-src 'none'; style-src 'sha256-{digest}'; img-src 'self'; base-uri 'none'; "
        "form-action 'none'; frame-ancestors 'none'"
    )
    return Page(content, policy)


@cache
def picture(name: str) -> str:
    """Raises KeyError where the handbook has none of this name."""
    return {one.name: one.read_text("utf-8") for one in _FILES.joinpath("pictures").iterdir()}[name]


def _kind(name: str) -> ProblemKind | None:
    folder, _, code = name.rpartition("/")
    return KINDS[code] if folder == PROBLEMS else None


def _marks(found: Written) -> list[tuple[str, str]]:
    """What stands on the page, where that is more than can be seen at once."""
    seconds = [(one.id, one.text) for one in found.headings if one.level == 2]  # noqa: PLR2004 - the level under the title
    return seconds if len(seconds) > 2 else []  # noqa: PLR2004 - fewer are found without a list


def _neighbours(entry: Entry) -> dict[str, Entry | None]:
    order = [one for part in PARTS for one in part.entries]
    if entry not in order:
        return {"before": None, "after": None}
    at = order.index(entry)
    following = order[at + 1] if at + 1 < len(order) else None
    return {"before": order[at - 1] if at else None, "after": following}


@cache
def _entries() -> dict[str, Entry]:
    return {one.name: one for one in outline.entries()}


@cache
def _style() -> str:
    return _FILES.joinpath("templates", "handbook.css").read_text("utf-8")


@cache
def _templates() -> Environment:
    loader = PackageLoader("filmbuild", "handbook/templates")
    return Environment(autoescape=True, loader=loader, undefined=StrictUndefined)
