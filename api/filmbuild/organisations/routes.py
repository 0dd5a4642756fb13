"""The operations on what an organisation says of itself."""

from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
)
from filmbuild.edge.preconditions import ETAG, IF_MATCH, MAKING
from filmbuild.organisations.profile import OrganisationProfile, OrganisationTexts
from filmbuild.organisations.service import OrganisationService, Tagged
from filmbuild.organisations.wire import Organisation, TextsInUse

PATH = "/v1/organisation"
TEXTS_PATH = f"{PATH}/texts/{{language}}"
CREATED = 201
_LANGUAGE = PathParameter("language", "a language tag such as en or es-MX", "[a-z]{2}(-[A-Z]{2})?")
_MAKING = (
    "Makes the record where there is none. After that If-Match is needed, with the ETag that it "
    "was last read with."
)


def organisation_operations(service: OrganisationService) -> tuple[AnyOperation, ...]:
    """The profile, and the texts of offers by language."""

    async def get(call: Call[None, NoQuery]) -> Answer:
        return _answer(await service.get(call.caller.organisation))

    async def put(call: Call[OrganisationProfile, NoQuery]) -> Answer:
        return _answer(await service.put(call.caller.organisation, call.body, call.headers))

    async def get_texts(call: Call[None, NoQuery]) -> Answer:
        return _answer(await service.get_texts(call.caller.organisation, call.path["language"]))

    async def put_texts(call: Call[OrganisationTexts, NoQuery]) -> Answer:
        organisation, language = call.caller.organisation, call.path["language"]
        return _answer(await service.put_texts(organisation, language, call.body, call.headers))

    return (
        Operation(
            method="GET",
            path=PATH,
            id="getOrganisation",
            tag="organisation",
            summary="What the organisation says of itself",
            description="The seller of its offers, how they are numbered, how long they are open, "
            "and how they are paid.",
            handler=get,
            query=NoQuery,
            answer=Organisation,
            answer_headers=ETAG,
            failures=("missing",),
        ),
        Operation(
            method="PUT",
            path=PATH,
            id="putOrganisation",
            tag="organisation",
            summary="Say who offers",
            description=f"Offers that were made before keep what they say. {_MAKING}",
            handler=put,
            query=NoQuery,
            body=OrganisationProfile,
            answer=Organisation,
            other_statuses=(CREATED,),
            headers=(IF_MATCH, MAKING),
            answer_headers=ETAG,
            failures=("precondition-failed", "precondition-required"),
        ),
        Operation(
            method="GET",
            path=TEXTS_PATH,
            id="getOrganisationTexts",
            tag="organisation",
            summary="The words of offers in one language",
            description="The organisation's own, or the service's where it has given none: there "
            "are such in English and in Spanish.",
            handler=get_texts,
            query=NoQuery,
            answer=TextsInUse,
            path_parameters=(_LANGUAGE,),
            answer_headers=ETAG,
            failures=("missing",),
        ),
        Operation(
            method="PUT",
            path=TEXTS_PATH,
            id="putOrganisationTexts",
            tag="organisation",
            summary="Say it in your own words",
            description="All of them in place of all that were in use: what is left out is not "
            f"said. Offers that were made before keep their words. {_MAKING}",
            handler=put_texts,
            query=NoQuery,
            body=OrganisationTexts,
            answer=TextsInUse,
            other_statuses=(CREATED,),
            headers=(IF_MATCH, MAKING),
            path_parameters=(_LANGUAGE,),
            answer_headers=ETAG,
            failures=("missing", "precondition-failed", "precondition-required"),
        ),
    )


def _answer(found: Tagged) -> Answer:
    status = CREATED if found.made else None
    return Answer(found.content, (("etag", found.tag),), status=status)
