"""Invoices and credit notes of accepted quotations, by the stages in which they are paid."""
