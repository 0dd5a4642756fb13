from filmbuild.db.guard import EVERYONE
from filmbuild.db.metadata import metadata
from filmbuild.db.session import Database

__all__ = ["EVERYONE", "Database", "metadata"]
