"""The estimating method as data: every rule that a trace may name."""
