"""Files of requests, in JSON, YAML or TOML."""

import sys
import tomllib
from pathlib import Path
from typing import Any

import click
import msgspec
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

FORMATS = {".json": "json", ".yaml": "yaml", ".yml": "yaml", ".toml": "toml"}
STANDARD_INPUT = Path("-")


def request_in(path: Path, form: str | None) -> dict[str, Any]:
    """Plain data, as it is sent; what is wrong with it the service says."""
    chosen = form or FORMATS.get(path.suffix.lower())
    if chosen is None:
        raise click.UsageError(
            f"The name of {path} does not say what it is: give --format json, yaml or toml."
        )
    content = sys.stdin.buffer.read() if path == STANDARD_INPUT else path.read_bytes()
    try:
        data = _read(content, chosen)
    except (msgspec.DecodeError, tomllib.TOMLDecodeError, YAMLError, UnicodeDecodeError) as error:
        raise click.UsageError(f"{path} is not {chosen.upper()}: {error}") from error
    if not isinstance(data, dict):
        raise click.UsageError(f"{path} has no fields at its top, such as site and job.")
    return data


def _read(content: bytes, form: str) -> Any:  # noqa: ANN401 - any data
    if form == "json":
        return msgspec.json.decode(content)
    if form == "toml":
        return tomllib.loads(content.decode())
    # YAML 1.2, in which 8:30 and NO are words, and a name that stands twice is an error
    return YAML(typ="safe", pure=True).load(content.decode())
