"""The documentation page: the contract as plain HTML that needs no script and no other host."""

import json
import re
from collections.abc import Iterable, Iterator
from html import escape
from typing import Any

Json = dict[str, Any]

POLICY = (
    "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
STYLE_PATH = "/v1/docs/style.css"
HANDBOOK = "/docs"
STYLE = """\
:root { color-scheme: light dark; --paper: #fbfaf6; --ink: #1d2629; --faint: #566166;
  --line: #d9d5ca; --well: #f1eee5; --link: #0b5d63; --gloss: #d9962b; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #13191b; --ink: #e3e7e4; --faint: #a5b0b1; --line: #344044; --well: #1c2427;
    --link: #7fd0ca; }
}
body { margin: 0; font: 1rem/1.5 system-ui, sans-serif; color: var(--ink);
  background: var(--paper); overflow-wrap: anywhere; }
header { border-top: 7px solid #2c7a7b; }
header::before { content: ""; display: block; border-top: 3px solid var(--gloss); }
header p, main { max-width: 72rem; margin: 0 auto; padding: 0 1.25rem; }
header p { padding-block: 0.75rem; }
main { padding-bottom: 3rem; }
h1, h2, h3 { line-height: 1.25; }
h2, h3 { margin-top: 2.5rem; border-top: 1px solid var(--line); padding-top: 1.25rem; }
a { color: var(--link); text-underline-offset: 0.15em; }
:focus-visible { outline: 3px solid var(--gloss); outline-offset: 2px; }
code, pre { font-family: ui-monospace, monospace; font-size: 0.9rem; }
pre { overflow: auto; max-height: 30rem; padding: 0.75rem; background: var(--well);
  overflow-wrap: normal; }
.table { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; min-width: 32rem; margin: 0.5rem 0; }
th, td { text-align: left; vertical-align: top; padding: 0.35rem 0.75rem 0.35rem 0;
  border-bottom: 1px solid var(--line); }
th { color: var(--faint); }
summary { cursor: pointer; color: var(--link); }
"""
_MONOSPACED = re.compile(r"`([^`]+)`")


def page(document: Json) -> str:
    """The whole page, in HTML."""
    info = document["info"]
    operations = list(_operations(document))
    body = [
        f'<header><p><a href="{HANDBOOK}">Handbook</a></p></header><main>',
        f"<h1>{escape(info['title'])}: every operation</h1>",
        _introduction(info["version"]),
        *_paragraphs(info["description"]),
        '<nav aria-label="Operations"><h2>Operations</h2>',
        *_contents(document["tags"], operations),
        "</nav>",
        *(_operation(*one) for one in operations),
        "<h2>Schemas</h2>",
        *(_schema(name, one) for name, one in document["components"]["schemas"].items()),
        "</main>",
    ]
    head = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<title>{escape(info["title"])}</title><link rel="stylesheet" href="{STYLE_PATH}"></head>'
    )
    return f"{head}<body>{''.join(body)}</body></html>"


def _introduction(version: str) -> str:
    link = '<a href="/v1/openapi.json">openapi.json</a>'
    return f"<p>Version {escape(version)}. The same contract for machines: {link}.</p>"


def _operations(document: Json) -> Iterator[tuple[str, str, Json, Json]]:
    shared = document["components"]["responses"]
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield method.upper(), path, operation, shared


def _contents(tags: list[Json], operations: list[tuple[str, str, Json, Json]]) -> Iterator[str]:
    for tag in tags:
        name = escape(tag["name"])
        yield f'<p id="tag-{name}"><strong>{name}</strong>: {escape(tag["description"])}</p><ul>'
        for method, path, operation, _ in operations:
            if tag["name"] in operation["tags"]:
                target = escape(operation["operationId"])
                yield (
                    f'<li><a href="#{target}"><code>{method} {escape(path)}</code></a> '
                    f"{escape(operation['summary'])}</li>"
                )
        yield "</ul>"


def _operation(method: str, path: str, operation: Json, shared: Json) -> str:
    name = escape(operation["operationId"])
    parts = [
        f'<h3 id="{name}"><code>{method} {escape(path)}</code></h3>',
        f"<p><strong>{escape(operation['summary'])}</strong> (operation <code>{name}</code>)</p>",
        *_paragraphs(operation["description"]),
    ]
    if parameters := operation.get("parameters"):
        parts.append(_table(("Parameter", "In", "Value", "Meaning"), map(_parameter, parameters)))
    if body := operation.get("requestBody"):
        for kind, media in body["content"].items():
            parts.append(f"<p>Body: <code>{escape(kind)}</code> {_type(media['schema'])}</p>")
            parts.extend(_examples(media))
    parts.append("<p>Answers:</p>")
    for status, response in operation["responses"].items():
        resolved = shared[response["$ref"].rpartition("/")[2]] if "$ref" in response else response
        parts.extend(_response(status, resolved))
    return "".join(parts)


def _parameter(parameter: Json) -> tuple[str, ...]:
    name = f"<code>{escape(parameter['name'])}</code>"
    needed = ", needed" if parameter.get("required") else ""
    meaning = _sentence(parameter.get("description", ""))
    return name, parameter["in"] + needed, _type(parameter["schema"]), meaning


def _response(status: str, response: Json) -> Iterator[str]:
    for kind, media in response.get("content", {}).items():
        yield (
            f"<p><code>{status}</code> {_sentence(response['description'])} "
            f"<code>{escape(kind)}</code> {_type(media['schema'])}</p>"
        )
        yield from _examples(media)


def _examples(media: Json) -> Iterator[str]:
    for example in media.get("examples", {}).values():
        value = example["value"]
        plain = isinstance(value, str)
        text = value if plain else json.dumps(value, indent=1, ensure_ascii=False)
        yield (
            f"<details><summary>{escape(example['summary'])}</summary>"
            f'<pre tabindex="0" role="group" aria-label="Example">{escape(text)}</pre></details>'
        )


def _schema(name: str, schema: Json) -> str:
    parts = [f'<h3 id="schema-{escape(name)}">{escape(name)}</h3>']
    parts.extend(_paragraphs(schema.get("description", "")))
    properties = schema.get("properties")
    if properties is None:
        parts.append(f"<p>{_type(schema)}</p>")
        return "".join(parts)
    needed = schema.get("required", ())
    rows = (_property(key, one, key in needed) for key, one in properties.items())
    parts.append(_table(("Field", "Value", "Meaning"), rows))
    return "".join(parts)


def _property(name: str, schema: Json, needed: bool) -> tuple[str, ...]:
    meaning = _sentence(schema.get("description", ""))
    if needed:
        meaning = f"<strong>Needed.</strong> {meaning}"
    elif "default" in schema:
        meaning += f" Default: <code>{escape(json.dumps(schema['default']))}</code>."
    return f"<code>{escape(name)}</code>", _type(schema), meaning


def _type(schema: Json) -> str:
    if "$ref" in schema:
        name = escape(schema["$ref"].rpartition("/")[2])
        return f'<a href="#schema-{name}">{name}</a>'
    for union in ("anyOf", "oneOf"):
        if union in schema:
            return " or ".join(_type(one) for one in schema[union])
    if "enum" in schema:
        return ", ".join(f"<code>{escape(json.dumps(one))}</code>" for one in schema["enum"])
    if "contentMediaType" in schema:
        return "the file itself"
    kind = escape(str(schema.get("type", "any value")))
    if isinstance(items := schema.get("items"), dict):
        kind = f"list of {_type(items)}"
    elif isinstance(values := schema.get("additionalProperties"), dict):
        kind = f"map of {_type(values)}"
    return kind + "".join(_limits(schema))


def _limits(schema: Json) -> Iterator[str]:
    names = {
        "minimum": "from",
        "exclusiveMinimum": "more than",
        "maximum": "to",
        "exclusiveMaximum": "less than",
        "minLength": "length from",
        "maxLength": "length to",
        "minItems": "items from",
        "maxItems": "items to",
        "format": "format",
        "pattern": "pattern",
    }
    for key, word in names.items():
        if key in schema:
            yield f", {word} <code>{escape(str(schema[key]))}</code>"


def _table(titles: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    head = "".join(f'<th scope="col">{title}</th>' for title in titles)
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    return (
        f'<div class="table" tabindex="0" role="group" aria-label="{titles[0]}s">'
        f"<table><tr>{head}</tr>{body}</table></div>"
    )


def _paragraphs(text: str) -> Iterator[str]:
    for paragraph in text.split("\n\n"):
        if paragraph.strip():
            yield f"<p>{_sentence(paragraph)}</p>"


def _sentence(text: str) -> str:
    """Names between backticks are shown as names."""
    return _MONOSPACED.sub(r"<code>\1</code>", escape(text))
