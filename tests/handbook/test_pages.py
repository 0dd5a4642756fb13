"""The pages as they are served: whole, linked, and asking nobody else for anything."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from handbook_examples import PAGES, PICTURES, blocks, text_of
from serving import Client, NewDatabase, serving

import filmbuild
import filmbuild.enquiries
from filmbuild.app import LARGEST_BODY_BYTES
from filmbuild.edge.query import MOST_PARAMETERS
from filmbuild.errors import REPORTED_FAULTS
from filmbuild.handbook import outline
from filmbuild.handbook.markdown import written
from filmbuild.idempotency.keys import KEPT_FOR
from filmbuild.pipeline.workdays import HORIZON_DAYS
from filmbuild.plans.scan import LARGEST_FILE
from filmbuild.pricelists import received
from filmbuild.pricelists.entries import MOST_ROWS
from filmbuild.quantities.parsing import LONGEST_TEXT

ENTRIES = list(outline.entries())
NAMES = [one.name for one in ENTRIES]
MEBIBYTE = 1 << 20
EXTERNAL = re.compile(r"""(?:src|href)=["']?(?:https?:)?//""")


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture(scope="module")
def served(client: Client) -> dict[str, str]:
    return {one.path: client.get(one.path).text for one in ENTRIES}


@pytest.mark.parametrize("entry", ENTRIES, ids=NAMES)
def test_a_page_runs_nothing_and_asks_nobody_else(client: Client, entry: outline.Entry) -> None:
    response = client.get(entry.path, headers={"accept": "text/html,application/xhtml+xml"})
    assert response.status_code == 200
    assert response.headers["content-type"] == "text/html; charset=utf-8"
    policy = response.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy
    assert "<script" not in response.text
    assert "style=" not in response.text
    assert not EXTERNAL.search(response.text)
    assert not re.search(
        r"\son[a-z]+=", re.sub(r"<pre.*?</pre>", "", response.text, flags=re.DOTALL)
    )


def test_every_link_leads_somewhere(client: Client, served: dict[str, str]) -> None:
    targets = served | {path: client.get(path).text for path in ("/v1/docs", "/v1/openapi.json")}
    for path, text in served.items():
        for link in re.findall(r'(?:href|src)="([^"]+)"', text):
            place, _, fragment = link.partition("#")
            target = place or path
            if target.startswith("/docs/pictures/"):
                assert client.get(target).headers["content-type"] == "image/svg+xml"
                continue
            assert target in targets, f"{path} links to {link}"
            assert not fragment or f'id="{fragment}"' in targets[target], f"{path}: {link}"


def test_every_file_is_a_page() -> None:
    files = {str(one.relative_to(PAGES).with_suffix("")) for one in PAGES.rglob("*.md")}
    assert files == set(NAMES)
    assert len(NAMES) == len(set(NAMES))


@pytest.mark.parametrize("name", NAMES)
def test_headings_go_down_one_step_at_a_time(name: str) -> None:
    page = written(text_of(name), name)
    level = 1
    for heading in page.headings:
        assert heading.level <= level + 1, heading.text
        level = heading.level
    assert len({one.id for one in page.headings}) == len(page.headings)


def test_a_page_knows_its_place(served: dict[str, str]) -> None:
    assert '<a href="/docs/paging" aria-current="page">' in served["/docs/paging"]
    assert '<a href="/docs/errors" aria-current="true">' in served["/problems/conflict"]
    assert 'rel="prev" href="/docs/preconditions"' in served["/docs/paging"]
    assert 'rel="next" href="/docs/webhooks"' in served["/docs/paging"]


@pytest.mark.parametrize(
    "path", ["/docs/no-such-page", "/problems/no-such-kind", "/docs/pictures/no.svg", "/docs/.."]
)
def test_what_is_not_there_is_a_problem(client: Client, path: str) -> None:
    response = client.get(path)
    assert response.status_code == 404
    assert response.headers["content-type"] == "application/problem+json"


def test_pictures_are_served_by_themselves(client: Client) -> None:
    for one in PICTURES.iterdir():
        response = client.get(f"/docs/pictures/{one.name}")
        assert response.content == one.read_bytes()
        assert response.headers["content-security-policy"].startswith("default-src 'none'")


def test_markup_of_an_example_is_shown_and_not_used(served: dict[str, str]) -> None:
    text = served["/docs/start-quote-form"]
    assert "<filmbuild-quote-form" not in text
    assert "filmbuild-quote-form" in text


def test_the_form_example_is_a_page_with_the_component() -> None:
    (form,) = (one for one in blocks(text_of("start-quote-form")) if one.flags == ("form",))
    assert re.search(
        r'<script type="module" src="http://127\.0\.0\.1:8080/quote-form/v1\.js"></script>',
        form.content,
    )
    assert re.search(
        r'<filmbuild-quote-form key="filmbuild-public_[\w-]+">\n<p>.+</p>\n</filmbuild-quote-form>',
        form.content,
    )
    assert "secret-token" not in form.content


def test_the_form_can_be_dressed_as_the_page_says() -> None:
    """Every custom property and part that is named is the component's, and none is left out."""
    text = text_of("start-quote-form")
    component = (Path(filmbuild.enquiries.__file__).parent / "web" / "v1.js").read_text("utf-8")
    properties = set(re.findall(r"--quote-[a-z-]+", component))
    assert set(re.findall(r"--quote-[a-z-]+", text)) == properties
    parts = set(re.findall(r"`([a-z]+)`", text.partition("Parts are")[2].partition(".")[0]))
    listed = re.search(r"Parts: ([a-z, ]+)\.", component)
    assert listed
    assert parts == set(listed[1].split(", "))


def test_the_limits_are_those_of_the_service() -> None:
    text = text_of("limits")
    for stated in (
        f"| body of a request | {LARGEST_BODY_BYTES // MEBIBYTE} MiB |",
        f"| {received.LARGEST_BODY_BYTES // MEBIBYTE} MiB, and {MOST_ROWS:,} rows |",
        f"| DXF drawing | {LARGEST_FILE // 1_000_000} MB |",
        f"| query parameters | {MOST_PARAMETERS} |",
        f"| faults listed in a problem | {REPORTED_FAULTS},",
        f"| text of a quantity | {LONGEST_TEXT} characters |",
        f"| length of a plan | {HORIZON_DAYS:,} days |",
    ):
        assert stated in text, stated
    assert f"{KEPT_FOR.total_seconds() / 3600:.0f} hours" in text_of("idempotency")


@pytest.mark.parametrize(
    ("schema", "field", "row"),
    [
        ("Site", "areas", "areas of a site"),
        ("ComparisonRequest", "variants", "variants of a comparison"),
        ("EstimateRequest", "options", "optional works of an estimate"),
    ],
)
def test_the_limits_are_those_of_the_contract(
    client: Client, schema: str, field: str, row: str
) -> None:
    schemas = client.get("/v1/openapi.json").json()["components"]["schemas"]
    most = schemas[schema]["properties"][field]["maxItems"]
    assert f"| {row} | {most:,} |" in text_of("limits")


def test_codes_that_are_explained_are_codes_of_faults() -> None:
    """Each stands in the source as a text of its own."""
    package = Path(filmbuild.__file__).parent
    texts = {
        node.value
        for path in package.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    explained = re.findall(r"^\| `([a-z-]+)` \|", text_of("errors"), re.MULTILINE)
    assert len(explained) > 20
    assert set(explained) <= texts
