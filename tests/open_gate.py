"""A gate that lets everyone in, for tests of what stands behind it."""

from calling import ORGANISATION
from litestar.types import HTTPScope

from filmbuild.edge.gate import Admission, RawHeaders
from filmbuild.edge.operations import AnyOperation, Caller

SOMEONE = Caller(organisation=ORGANISATION, actor="anyone")


class OpenGate:
    async def admit(self, operation: AnyOperation, scope: HTTPScope) -> Admission:
        assert operation.path
        assert scope["method"]
        return Admission(caller=SOMEONE)

    async def preflight(self, operations: dict[str, AnyOperation], scope: HTTPScope) -> RawHeaders:
        assert operations
        assert scope["method"] == "OPTIONS"
        return ()


OPEN_GATE = OpenGate()
