"""The quote form of contractors' web pages: a price range for visitors, and their enquiries."""
