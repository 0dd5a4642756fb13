"""Whose records these are: every table names an organisation, and a service has this one."""

ORGANISATION = "default"
