"""Books what customers accept: an example to take into an accounting package, of plain files.

    quotation.accepted -> the events' table -> invoices at the service -> UBL files -> the ledger

Each step may be taken again: a crash, a message that comes twice, late or in two threads at once
leads to the same invoices, files and entries. Names and accounts are demo data.
"""
