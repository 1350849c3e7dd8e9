"""The tables by subject: row classes, how values are rows, repositories and lists. Known only in storage."""
