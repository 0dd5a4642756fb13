"""The estimating rules that traces name, for callers to look up."""

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

import msgspec

from filmbuild.edge import paging
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
)
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import NotFound
from filmbuild.estimates.wire import RulePage
from filmbuild.pipeline import rules
from filmbuild.pipeline.trace import Rule

PATH = "/v1/rules"


@cache
def rulebook() -> dict[str, Rule]:
    """All rules by id, in order of their ids."""
    modules = (
        import_module(f"{rules.__name__}.{one.name}") for one in iter_modules(rules.__path__)
    )
    found = {rule.id: rule for module in modules for rule in module.RULES}
    return dict(sorted(found.items()))


async def _list(call: Call[None, PageQuery]) -> Answer:
    every = tuple(rulebook().values())
    items, following = paging.cut(every, lambda rule: rule.id, call.query, PATH)
    page = RulePage(items=items, next=following)
    return Answer(msgspec.json.encode(page), paging.link(call.query, PATH, following))


async def _get(call: Call[None, NoQuery]) -> Answer:
    rule = rulebook().get(call.path["rule_id"])
    if rule is None:
        raise NotFound("No rule has this id.")
    return Answer(msgspec.json.encode(rule))


def rule_operations() -> tuple[AnyOperation, ...]:
    return (
        Operation(
            method="GET",
            path=PATH,
            id="listRules",
            tag="rules",
            summary="The estimating rules, a page at a time",
            description="Every figure of an estimate carries a trace that names one of these.",
            handler=_list,
            query=PageQuery,
            answer=RulePage,
            answer_headers={"Link": paging.LINK},
        ),
        Operation(
            method="GET",
            path=PATH + "/{rule_id}",
            id="getRule",
            tag="rules",
            summary="One estimating rule",
            description="Its statement, its equation where it has one, and its source.",
            handler=_get,
            query=NoQuery,
            answer=Rule,
            failures=("missing",),
            path_parameters=(
                PathParameter("rule_id", "A trace's `rule`.", "^[a-z0-9][a-z0-9._-]{0,99}$"),
            ),
        ),
    )
