"""Universal Business Language 2.1 (OASIS Standard of 4 November 2013): parts and the quotation."""
