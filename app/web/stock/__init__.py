"""The rack: items, counts, labels."""
