"""Price lists by currency and tier, and updates of many prices at once."""
