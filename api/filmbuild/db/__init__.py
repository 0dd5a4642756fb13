from filmbuild.db.metadata import metadata
from filmbuild.db.session import Database

__all__ = ["Database", "metadata"]
