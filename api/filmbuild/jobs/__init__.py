"""Work that goes on after its request was answered, and after the process that did it is gone.

A feature asks for a job in the transaction that gives it something to do, so that there is never
one without the other. A worker then calls the feature's `Work`, portion by portion, until nothing
is left. A portion may be called again after it was done, as it is whenever a process dies between
doing it and saying so: what it finds done it leaves alone.
"""

from filmbuild.jobs.store import ask
from filmbuild.jobs.work import Work

__all__ = ["Work", "ask"]
