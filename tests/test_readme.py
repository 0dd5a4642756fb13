"""The README's examples do what it says they do."""

import contextlib
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import calling
import httpx
import new_databases
import pytest
from running import running
from serving import NewDatabase, load_demo

from filmbuild import settings

README = (Path(__file__).parents[1] / "README.md").read_text()
EXAMPLES = ("A worked example", "From an estimate to an invoice", "Raise a supplier's prices")
PRINTED_ADDRESS = "http://127.0.0.1:8080"


def section(title: str) -> str:
    found = re.search(rf"^## {title}\n(.*?)(?=^## |\Z)", README, re.MULTILINE | re.DOTALL)
    assert found, title
    return found[1]


def blocks(title: str, language: str = "") -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", section(title), re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A real server on the demo catalogue."""
    folder = tmp_path_factory.mktemp("readme")
    configured = settings.read({"FILMBUILD_DATA_FOLDER": str(folder)})
    new_databases.make(configured.database_url)
    load_demo(configured.database_url)
    with running(configured.database_url, fresh=True) as service:
        yield f"http://127.0.0.1:{service.port}"


@pytest.mark.parametrize("title", ["Run it", "Check it"])
def test_each_command_is_the_only_block_of_its_section(title: str) -> None:
    (command,) = blocks(title)
    assert len(command.splitlines()) == 1


def test_the_sdk_examples_print_what_the_readme_says(
    new_database: NewDatabase, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The later one goes on with what the earlier has made."""
    (tmp_path / ".data").mkdir()
    (tmp_path / ".data" / "key").write_text(f"{calling.KEY}\n")
    monkeypatch.chdir(tmp_path)
    with new_database(True, loaded=True) as url, running(url, fresh=True) as service:
        run_examples(f"http://127.0.0.1:{service.port}")


def run_examples(address: str) -> None:
    names: dict[str, Any] = {}
    for title in EXAMPLES:
        (example,) = blocks(title, "python")
        (printed,) = blocks(title, "text")
        assert PRINTED_ADDRESS in example
        output = io.StringIO()
        with contextlib.redirect_stdout(output):
            exec(example.replace(PRINTED_ADDRESS, address), names)  # noqa: S102 - the example is our own
        assert output.getvalue() == printed


def contains(whole: Any, part: Any) -> bool:
    if isinstance(part, dict):
        return isinstance(whole, dict) and all(
            name in whole and contains(whole[name], value) for name, value in part.items()
        )
    if isinstance(part, list):
        return isinstance(whole, list) and all(
            contains(one, other) for one, other in zip(whole, part, strict=True)
        )
    return bool(whole == part)


def test_the_plain_requests_get_the_answers_shown(address: str) -> None:
    good, answer, bad, problem = blocks("A worked example", "json")
    assert f"POST {PRINTED_ADDRESS}/v1/takeoff" in section("A worked example")
    for asked, shown, status in ((good, answer, 200), (bad, problem, 422)):
        headers = {"content-type": "application/json", **calling.HEADERS}
        response = httpx.post(f"{address}/v1/takeoff", content=asked, headers=headers)
        assert response.status_code == status
        assert contains(response.json(), json.loads(shown)), response.text


def test_every_endpoint_of_the_contract_is_on_the_map(address: str) -> None:
    paths = httpx.get(f"{address}/v1/openapi.json").json()["paths"]
    shown = section("Endpoints")
    for path in paths:
        collection = re.sub(r"/\{[a-z_]+\}(/history)?$", "", path)
        if not path.endswith(".css"):
            assert f"{collection}`" in shown or f"{collection}/" in shown, path
