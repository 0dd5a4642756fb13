"""Which licences pass, and what an audit's outcome is taken for."""

import json
from email.message import Message

import dependencies
import pytest

ALLOWED = ("MIT", "Apache-2.0", "BSD-3-Clause", "BSD")
RULES = {
    "allowed": ALLOWED,
    "exceptions": {"listed": {"licence": "LGPL-3.0-only", "reason": "it is replaceable"}},
}
UNREACHED = "Traceback\nrequests.exceptions.ConnectionError: Failed to resolve 'api.osv.dev'"


def described(**fields: str) -> Message:
    message = Message()
    for name, value in fields.items():
        message[name.replace("_", "-")] = value
    return message


@pytest.mark.parametrize(
    ("fields", "licence", "may"),
    [
        ({"License_Expression": "MIT"}, "MIT", True),
        ({"License_Expression": "MIT AND Apache-2.0"}, "MIT AND Apache-2.0", True),
        ({"License_Expression": "MIT AND GPL-3.0-only"}, "MIT AND GPL-3.0-only", False),
        ({"License_Expression": "MIT OR GPL-3.0-only"}, "MIT OR GPL-3.0-only", True),
        ({"Classifier": "License :: OSI Approved :: BSD License"}, "BSD", True),
        (
            {"Classifier": "License :: Other/Proprietary License"},
            "Other/Proprietary License",
            False,
        ),
        ({"License": "3-Clause BSD License\nRedistribution"}, "BSD-3-Clause", True),
        ({}, "", False),
    ],
)
def test_a_licence_is_read_and_judged(fields: dict[str, str], licence: str, may: bool) -> None:
    """SPDX specification, annex "SPDX license expressions"."""
    found = dependencies.licence_of(described(**fields))
    assert found == licence
    assert dependencies.judge("any", found, RULES)[0] == may


def test_an_exception_is_of_one_package_and_one_licence() -> None:
    assert dependencies.judge("listed", "LGPL-3.0-only", RULES)[0]
    assert not dependencies.judge("listed", "GPL-3.0-only", RULES)[0]
    assert not dependencies.judge("other", "LGPL-3.0-only", RULES)[0]


def test_the_lock_is_read_with_its_markers() -> None:
    text = "# made by a tool\nanyio==4.16.0\ncolorama==0.4.6 ; sys_platform == 'win32'\n"
    assert list(dependencies.locked(text)) == [
        ("anyio", "4.16.0", None),
        ("colorama", "0.4.6", "sys_platform == 'win32'"),
    ]


def test_an_audit_that_reached_nobody_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert dependencies.verdict("", UNREACHED) == dependencies.NOT_KNOWN
    assert "NOT AUDITED" in capsys.readouterr().out
    assert dependencies.verdict("", "pip_audit: error: unrecognized arguments") == 1


def test_an_audit_names_what_it_found(capsys: pytest.CaptureFixture[str]) -> None:
    bad = {"id": "PYSEC-0-1", "fix_versions": ["1.1"]}
    clean = {"name": "clean", "version": "2", "vulns": []}
    report = {"dependencies": [clean, {"name": "holed", "version": "1.0", "vulns": [bad]}]}
    assert dependencies.verdict(json.dumps(report), "") == 1
    assert "holed 1.0: PYSEC-0-1, mended in 1.1" in capsys.readouterr().out
    assert dependencies.verdict(json.dumps({"dependencies": [clean]}), "") == 0
