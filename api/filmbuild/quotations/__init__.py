"""Offers to customers: issued, accepted, documented and handed on to invoicing."""
