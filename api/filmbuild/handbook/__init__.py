"""The handbook: pages for those who build on the service, written in Markdown and served by it."""
