"""The handbook over HTTP: pages for people, which are no part of the contract."""

from collections.abc import Callable

from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
)
from filmbuild.errors import NotFound
from filmbuild.handbook import pages
from filmbuild.handbook.markdown import PICTURES
from filmbuild.handbook.outline import PROBLEMS, ROOT

TAG = "handbook"
_PICTURE_POLICY = (("content-security-policy", "default-src 'none'; frame-ancestors 'none'"),)
_NAME = r"^[a-z0-9-]{1,60}$"


def handbook_operations() -> tuple[AnyOperation, ...]:
    """Served like operations, to everyone: what is read here must not need a key to be read."""
    return (
        _page(ROOT, "getHandbook", "The first page", lambda _call: "index"),
        _page(
            f"{ROOT}/{{page}}",
            "getHandbookPage",
            "A page",
            lambda call: call.path["page"],
            PathParameter("page", "The page's name.", _NAME),
        ),
        _page(
            f"/{PROBLEMS}/{{code}}",
            "getProblemPage",
            "What a kind of problem means",
            lambda call: f"{PROBLEMS}/{call.path['code']}",
            PathParameter("code", "The end of the problem's type.", _NAME),
        ),
        _pictures(),
    )


def _page(
    path: str,
    name: str,
    summary: str,
    asked: Callable[[Call[None, NoQuery]], str],
    *parameters: PathParameter,
) -> AnyOperation:
    async def get_page(call: Call[None, NoQuery]) -> Answer:
        try:
            page = pages.page(asked(call))
        except KeyError:
            raise NotFound("The handbook has no such page.") from None
        return Answer(page.content.encode(), (("content-security-policy", page.policy),))

    return Operation(
        method="GET",
        path=path,
        id=name,
        tag=TAG,
        summary=summary,
        description="Needs no script, and asks no other host for anything.",
        handler=get_page,
        query=NoQuery,
        answer=str,
        media_type="text/html",
        path_parameters=parameters,
        failures=("missing",) if parameters else (),
        public=True,
    )


def _pictures() -> AnyOperation:
    async def get_picture(call: Call[None, NoQuery]) -> Answer:
        try:
            content = pages.picture(call.path["picture"])
        except KeyError:
            raise NotFound("The handbook has no such picture.") from None
        return Answer(content.encode(), _PICTURE_POLICY)

    return Operation(
        method="GET",
        path=f"{ROOT}/{PICTURES}/{{picture}}",
        id="getHandbookPicture",
        tag=TAG,
        summary="A picture",
        description="Drawn by the service itself.",
        handler=get_picture,
        query=NoQuery,
        answer=str,
        media_type="image/svg+xml",
        path_parameters=(PathParameter("picture", "The file's name.", r"^[a-z0-9-]{1,60}\.svg$"),),
        failures=("missing",),
        public=True,
    )
