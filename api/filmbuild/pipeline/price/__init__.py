"""From cost to an offer: cost lines, overhead, markup or margin, and tax."""

from filmbuild.pipeline.price.stage import price_job

__all__ = ["price_job"]
