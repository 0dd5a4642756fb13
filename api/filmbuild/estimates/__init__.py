"""Stored estimates."""
