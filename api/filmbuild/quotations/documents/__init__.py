"""What customers and crews read: pages, print, tables and linked data, made of data alone."""
