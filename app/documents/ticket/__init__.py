"""The workshop ticket."""
