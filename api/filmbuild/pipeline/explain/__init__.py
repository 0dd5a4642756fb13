"""Figures of the materials stage unfolded to the sentences that they come from."""

from filmbuild.pipeline.explain.unfold import explanations

__all__ = ["explanations"]
