"""Drawings read into areas that can be put into a site."""
