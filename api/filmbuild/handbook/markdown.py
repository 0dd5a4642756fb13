"""Markdown to HTML: headings that can be linked to, examples that can be read, no raw HTML."""

import posixpath
import re
from collections.abc import Iterator, Sequence
from functools import cache
from html import escape
from typing import NamedTuple

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import EnvType, OptionsDict
from pygments import highlight
from pygments.formatters import HtmlFormatter
from pygments.lexers import get_lexer_by_name

from filmbuild.handbook.outline import ROOT, path_of

LANGUAGES = {
    "python": "Python",
    "shell": "Shell",
    "json": "Answer",
    "html": "HTML",
    "http": "HTTP",
    "text": "Output",
    "console": "Where the service runs",
    "nginx": "nginx",
    "haproxy": "HAProxy",
}
"""What an example may be written in, and how it is called above it."""
PICTURES = "pictures"
_LEXERS = {"shell": "bash", "console": "bash", "haproxy": "text"}
_FORMATTER = HtmlFormatter(nowrap=True)
_FOREIGN = re.compile(r"[a-z]+:|/|#")
_NOT_IN_SLUG = re.compile(r"[^a-z0-9]+")


class Heading(NamedTuple):
    level: int
    id: str
    text: str


class Written(NamedTuple):
    """A page's body without its title, and the headings in it."""

    title: str
    body: str
    headings: tuple[Heading, ...]


def written(text: str, name: str) -> Written:
    """`name` is that of the page: links are relative to its place, as they are among the files."""
    tokens = _parser().parse(text)
    headings = tuple(_mark_headings(tokens))
    for token in tokens:
        for child in token.children or ():
            _point(child, name)
    title, *others = headings
    start = next(at for at, one in enumerate(tokens) if one.type == "heading_close") + 1
    body = _parser().renderer.render(tokens[start:], _parser().options, {})
    return Written(title.text, body, tuple(others))


def slug(text: str) -> str:
    return _NOT_IN_SLUG.sub("-", text.lower()).strip("-")


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False}, renderer_cls=_Renderer)
    return parser.enable("table")


def _mark_headings(tokens: Sequence[Token]) -> Iterator[Heading]:
    for at, token in enumerate(tokens):
        if token.type == "heading_open":
            text = "".join(child.content for child in tokens[at + 1].children or ())
            token.attrSet("id", slug(text))
            yield Heading(int(token.tag[1]), slug(text), text)


def _point(token: Token, name: str) -> None:
    if token.type == "link_open":
        token.attrSet("href", address(str(token.attrGet("href")), name))
    elif token.type == "image":
        token.attrSet("src", f"{ROOT}/{PICTURES}/{posixpath.basename(str(token.attrGet('src')))}")


def address(target: str, name: str) -> str:
    """Where a link of the page leads once it is served."""
    if _FOREIGN.match(target):
        return target
    file, mark, fragment = target.partition("#")
    place = posixpath.normpath(posixpath.join(posixpath.dirname(name), file))
    return path_of(place.removesuffix(".md")) + mark + fragment


class _Renderer(RendererHTML):
    """What is wider than a phone scrolls by itself, and can be reached by keyboard to be scrolled."""

    def fence(self, tokens: Sequence[Token], idx: int, _options: OptionsDict, _env: EnvType) -> str:
        language = tokens[idx].info.split()[0]
        label = LANGUAGES[language]
        lexer = get_lexer_by_name(_LEXERS.get(language, language), stripnl=False)
        code = highlight(tokens[idx].content, lexer, _FORMATTER)
        return (
            f'<div class="example {language}"><p class="language">{label}</p>'
            f'<pre tabindex="0" role="group" aria-label="{label}"><code>{code}</code></pre></div>\n'
        )

    def table_open(
        self, _tokens: Sequence[Token], _idx: int, _options: OptionsDict, _env: EnvType
    ) -> str:
        return '<div class="scroll" tabindex="0" role="group" aria-label="Table"><table>\n'

    def table_close(
        self, _tokens: Sequence[Token], _idx: int, _options: OptionsDict, _env: EnvType
    ) -> str:
        return "</table></div>\n"

    def image(self, tokens: Sequence[Token], idx: int, _options: OptionsDict, _env: EnvType) -> str:
        source, text = escape(str(tokens[idx].attrGet("src"))), escape(tokens[idx].content)
        return (
            '<span class="picture" tabindex="0" role="group" aria-label="Picture">'
            f'<img src="{source}" alt="{text}"></span>'
            f'<a class="alone" href="{source}">Open this picture alone</a>'
        )
