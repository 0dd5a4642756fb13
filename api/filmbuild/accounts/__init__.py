"""Who may call: organisations, their keys, and the log of what was done with them."""
