"""Who the service works for: the seller's data, the texts of its documents, its numbering."""
