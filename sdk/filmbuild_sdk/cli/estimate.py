"""`estimate`: a request file worked out, and kept where that is asked for."""

from pathlib import Path
from typing import Any

import click

from filmbuild_sdk import Call, Client, models
from filmbuild_sdk.call import key
from filmbuild_sdk.cli.estimate_tables import show
from filmbuild_sdk.cli.output import say, screen, show_json
from filmbuild_sdk.cli.reading import request_in
from filmbuild_sdk.cli.state import State, json_option

_FILE = click.Path(path_type=Path, dir_okay=False, writable=True)


@click.command()
@click.argument(
    "source",
    metavar="FILE",
    type=click.Path(path_type=Path, exists=True, dir_okay=False, allow_dash=True),
)
@click.option("--format", "form", type=click.Choice(["json", "yaml", "toml"]), help="What FILE is.")
@click.option("--store", is_flag=True, help="Keep the estimate, and print its id.")
@click.option("--idempotency-key", help="Keep it once, however often this is run with the same.")
@click.option("--pdf", type=_FILE, help="Write the crew's papers, without prices, there.")
@click.option("--drawing", type=_FILE, help="Write the drawing of the takeoff (SVG) there.")
@json_option
@click.pass_obj
def estimate(
    state: State,
    source: Path,
    form: str | None,
    *,
    store: bool,
    idempotency_key: str | None,
    pdf: Path | None,
    drawing: Path | None,
) -> None:
    """Work out the estimate that FILE asks for: takeoff, materials, labour, dates and price.

    FILE has what `POST /v1/calculations` takes, as JSON, YAML or TOML; - reads standard input.
    """
    if idempotency_key and not store:
        raise click.UsageError("--idempotency-key goes with --store.")
    request = request_in(source, form)
    with state.client() as client:
        stored = _stored(client, request, idempotency_key) if store else None
        document = stored.document if stored else _calculated(client, request)
        # all are made before one is written, so that a refusal leaves no half of them
        made: dict[Path, bytes] = {}
        if pdf is not None:
            made[pdf] = client.send(_job_pack(request))
        if drawing is not None:
            made[drawing] = client.send(_takeoff_drawing(request)).encode()
    _write(made)
    if state.as_json:
        show_json(stored or document)
        return
    show(screen(), document)
    if stored:
        say(f"Kept as {stored.id}.")


def _calculated(client: Client, request: dict[str, Any]) -> models.EstimateDocument:
    return client.send(Call("POST", "/v1/calculations", models.EstimateDocument, body=request))


def _stored(client: Client, request: dict[str, Any], given: str | None) -> models.StoredEstimate:
    made = Call(
        "POST", "/v1/estimates", models.StoredEstimate, body=request, idempotency_key=key(given)
    )
    return client.send(made)


def _job_pack(request: dict[str, Any]) -> Call[bytes]:
    return Call("POST", "/v1/job-pack", bytes, body=request, accept="application/pdf")


def _takeoff_drawing(request: dict[str, Any]) -> Call[str]:
    asked = {name: request[name] for name in ("units", "site") if name in request}
    return Call("POST", "/v1/takeoff", str, body=asked, accept="image/svg+xml")


def _write(made: dict[Path, bytes]) -> None:
    for path, content in made.items():
        try:
            path.write_bytes(content)
        except OSError as error:
            raise click.FileError(str(path), error.strerror) from error
        say(f"Wrote {path}")
