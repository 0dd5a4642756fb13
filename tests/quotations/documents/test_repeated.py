"""The same offer gives the same bytes, on any day and in any process."""

import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import msgspec
from document_cases import DRAFT, accepted, catalogue, estimated, one_way, spanish, two_ways

from filmbuild.quotations.documents.job_pack import job_pack
from filmbuild.quotations.documents.json_ld import offer_json_ld
from filmbuild.quotations.documents.lines import offer_lines_csv
from filmbuild.quotations.documents.pages import job_pack_page, offer_page
from filmbuild.quotations.documents.pdf import job_pack_pdf, offer_pdf

ROOT = Path(__file__).parents[3]
AGAIN = """
import sys
from test_repeated import digests
print(*digests(), sep="\\n")
"""


def digests() -> list[str]:
    content = spanish(two_ways())
    pack = job_pack(*estimated(), catalogue())
    made = (
        offer_page(content, "issued", None, link="/o").content.encode(),
        offer_pdf(content, "accepted", accepted(content)),
        offer_pdf(msgspec.structs.replace(one_way(), **DRAFT), "draft", None),
        offer_lines_csv(content).encode(),
        offer_json_ld(content),
        job_pack_page(pack, "es").content.encode(),
        job_pack_pdf(pack, "es"),
    )
    return [sha256(one).hexdigest() for one in made]


def test_the_same_bytes_again_and_in_another_process() -> None:
    first = digests()
    assert digests() == first
    folders = [Path(__file__).parent, ROOT / "tests", ROOT / "api", ROOT / "sdk"]
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join(map(str, folders)),
        "PYTHONHASHSEED": "77",
        "TZ": "Asia/Tokyo",
        "LC_ALL": "C",
    }
    done = subprocess.run(
        [sys.executable, "-c", AGAIN],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    assert done.stdout.split() == first


def test_another_day_is_another_document() -> None:
    content = one_way()
    assert content.issued_on is not None
    later = msgspec.structs.replace(content, issued_on=content.issued_on.replace(day=5))
    assert offer_pdf(content, "issued", None) != offer_pdf(later, "issued", None)
