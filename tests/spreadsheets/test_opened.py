"""The tables of a real run, opened by LibreOffice Calc. Names are invented."""

import csv
import io
import os
import shutil
import subprocess
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import serving
from lxml import etree
from new_databases import NewDatabase
from quotation_cases import PROFILE, estimate_body, quotation_body
from sheet_cases import asked

OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
# from LibreOffice's help on filter options of CSV: comma, quote, UTF-8, first line, formats, language
# of the locale (Windows' numbers), quoted fields as text, detect special numbers
FILTER = "Text - txt - csv (StarCalc):44,34,76,1,,{language},false,true"
ENGLISH, GERMAN = 1033, 1031
TAXED = {"tax_place": "Port Alder"}
Cells = list[list[tuple[str, str]]]


@pytest.fixture(scope="module")
def tables(new_sqlite: NewDatabase) -> dict[str, str]:
    """What the service answers to those who accept text/csv."""
    with serving.serving(new_sqlite) as client:

        def sent(method: str, path: str, body: Any = None, **headers: str) -> Any:
            answer = client.request(method, path, json=body, headers=headers)
            assert answer.is_success, answer.text
            return answer

        def table(method: str, path: str, body: Any = None) -> str:
            text: str = sent(method, path, body, accept="text/csv").text
            return text

        sent("PUT", "/v1/organisation", PROFILE)
        body = estimate_body()
        body["job"]["terms"] |= TAXED
        body["site"]["areas"][0]["id"] = "007"
        estimate = sent("POST", "/v1/estimates", body).json()["id"]
        draft = sent("POST", "/v1/quotations", quotation_body(estimate))
        path = f"/v1/quotations/{draft.json()['id']}"
        tag = client.get(path).headers["etag"]
        offer = sent("POST", f"{path}/issue", **{"if-match": tag}).json()
        (way,) = offer["content"]["alternates"]
        choice = {"name": "A. Sample", "alternate": way["id"], "total": way["offer"]["total"]}
        sent("POST", f"{offer['link']}/acceptance", choice)
        invoice = sent("POST", f"{path}/invoices", {"issued_on": "2026-10-01"}).json()["id"]
        formula = {
            "selector": {"roles": ["primer"]},
            "currency": "USD",
            "percent": "4.5",
            "effective_from": "2026-09-01",
        }
        update = sent("POST", "/v1/price-formulas", formula).json()["id"]
        asking = asked()
        return {
            "quotation": table("GET", path),
            "offer": table("GET", offer["link"]),
            "invoice-lines": table("GET", f"{path}/invoice-lines"),
            "invoice": table("GET", f"/v1/invoices/{invoice}"),
            "takeoff": table("POST", "/v1/takeoff", {"site": body["site"]}),
            "schedule": table(
                "POST", "/v1/schedule", {key: body[key] for key in ("units", "site", "job")}
            ),
            "mixing-sheet": table("POST", "/v1/mixing-sheet", asking),
            "loading-list": table("POST", "/v1/loading-list", asking),
            "price-check": table("POST", "/v1/price-formulas", formula | {"check_only": True}),
            "price-changes": table("GET", f"/v1/price-updates/{update}/changes"),
        }


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a profile of its own."""
    if shutil.which("soffice") is None:
        reason = "LibreOffice Calc is missing (Debian: apt-get install libreoffice-calc-nogui)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    return tmp_path_factory.mktemp("office")


@pytest.fixture(scope="module", params=[ENGLISH, GERMAN], ids=["en-US", "de-DE"])
def opened(
    request: pytest.FixtureRequest, office: Path, tables: dict[str, str]
) -> dict[str, Cells]:
    """The type and the value of each cell. All tables at once: the program takes long to start."""
    folder = office / str(request.param)
    folder.mkdir()
    for name, content in tables.items():
        (folder / f"{name}.csv").write_text(content, encoding="utf-8", newline="")
    subprocess.run(
        [  # noqa: S607 - the fixture found it on the path
            "soffice",
            f"-env:UserInstallation={(office / 'profile').as_uri()}",
            "--headless",
            f"--infilter={FILTER.format(language=request.param)}",
            "--convert-to",
            "fods",
            "--outdir",
            str(folder),
            *(str(folder / f"{name}.csv") for name in tables),
        ],
        check=True,
        capture_output=True,
    )
    return {name: list(_rows(folder / f"{name}.fods")) for name in tables}


def _rows(path: Path) -> Iterator[list[tuple[str, str]]]:
    for row in etree.parse(path).iter(f"{TABLE}table-row"):
        cells = []
        for cell in row.iter(f"{TABLE}table-cell"):
            assert cell.get(f"{TABLE}formula") is None, path
            again = int(cell.get(f"{TABLE}number-columns-repeated", "1"))
            cells += [_value(cell)] * min(again, 100)
        yield from [cells] * min(int(row.get(f"{TABLE}number-rows-repeated", "1")), 100)


def _value(cell: etree._Element) -> tuple[str, str]:
    kind = cell.get(f"{OFFICE}value-type", "")
    if kind in {"", "string"}:
        return kind, "\n".join("".join(map(str, one.itertext())) for one in cell.iter(f"{TEXT}p"))
    return kind, cell.get(f"{OFFICE}{'date-value' if kind == 'date' else 'value'}", "")


NAMES = (
    "quotation",
    "offer",
    "invoice-lines",
    "invoice",
    "takeoff",
    "schedule",
    "mixing-sheet",
    "loading-list",
    "price-check",
    "price-changes",
)


@pytest.mark.parametrize("name", NAMES)
def test_each_cell_is_what_was_written(
    opened: dict[str, Cells], tables: dict[str, str], name: str
) -> None:
    written = list(csv.reader(io.StringIO(tables[name], newline=""), strict=True))
    assert len(written) > 1
    for row, cells in zip(written, opened[name], strict=False):
        assert len(cells) >= len(row)
        for text, (kind, value) in zip(row, cells, strict=False):
            if kind == "float":
                assert Decimal(value) == pytest.approx(Decimal(text), rel=Decimal("1e-14"))
            elif kind == "date":
                assert value == text.replace(" ", "T").removesuffix("T00:00:00")
            else:
                assert kind in {"", "string"}, (name, text, kind)
                assert value == text


def column(name: str, title: str, opened: dict[str, Cells]) -> set[str]:
    """The types of a column's cells that are not empty."""
    header, *rows = opened[name]
    place = [text for _, text in header].index(title)
    return {row[place][0] for row in rows if len(row) > place} - {""}


def test_sums_are_numbers_and_days_are_days_and_codes_are_text(
    opened: dict[str, Cells], request: pytest.FixtureRequest
) -> None:
    """Read as German, numbers with a point stay text: they are never taken for other numbers."""
    number = "float" if "en-US" in request.node.name else "string"
    for name in ("quotation", "offer", "invoice-lines", "invoice"):
        assert column(name, "net", opened) == {number}
        assert column(name, "description", opened) == {"string"}
    assert column("price-changes", "now", opened) == {number}
    assert column("schedule", "start [UTC]", opened) == {"date"}
    assert column("price-changes", "effective_from", opened) == {"date"}
    assert column("price-check", "effective_from", opened) == {"date"}
    assert opened["takeoff"][1][0] == ("string", "'007")
