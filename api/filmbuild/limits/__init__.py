"""How much each caller may ask for, and how long a connection may keep the service waiting."""
