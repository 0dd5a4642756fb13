"""Where JSON becomes typed values and back, and errors become problem documents."""
