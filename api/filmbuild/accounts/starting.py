"""The first organisation and its first key, made by whoever runs the service."""

import re
from datetime import datetime

from sqlalchemy.exc import IntegrityError

from filmbuild.accounts import store
from filmbuild.accounts.keys import EVERYTHING
from filmbuild.accounts.service import begin_key
from filmbuild.accounts.wire import KeyRequest
from filmbuild.db import EVERYONE, Database
from filmbuild.db.identities import ORGANISATION, new_identity
from filmbuild.errors import Conflict, InvalidInput, NotFound

OPERATOR = "operator"


async def create_organisation(
    database: Database, name: str, now: datetime, organisation: str | None = None
) -> str:
    """Its id. Raises InvalidInput and Conflict."""
    organisation = organisation or new_identity("org")
    if re.fullmatch(ORGANISATION, organisation) is None:
        raise InvalidInput("An id is of lower-case letters, digits, _ and -, 63 at most.")
    try:
        async with database.writer(organisation) as connection:
            await store.insert_account(connection, organisation, name, now)
    except IntegrityError as error:
        raise Conflict(f"The organisation {organisation} exists already.") from error
    return organisation


async def create_key(
    database: Database,
    organisation: str,
    name: str,
    now: datetime,
    scopes: tuple[str, ...] = (EVERYTHING,),
) -> str:
    """A secret key, as it is shown this once. Raises NotFound."""
    request = KeyRequest(name=name, scopes=scopes)
    async with database.writer(organisation) as connection:
        if not await store.account_exists(connection, organisation):
            raise NotFound(f"There is no organisation {organisation}.")
        made = await begin_key(connection, organisation, OPERATOR, request, now)
    return made.secret or ""


async def only_organisation(database: Database) -> str:
    """For commands that name none. Raises InvalidInput where there are none, or several."""
    async with database.reader(EVERYONE) as connection:
        found = await store.accounts(connection)
    if len(found) == 1:
        return next(iter(found))
    if not found:
        raise InvalidInput(
            "There is no organisation yet: run `filmbuild create-organisation NAME`."
        )
    raise InvalidInput(f"Say which organisation: {', '.join(sorted(found))}.")
