"""The survey language: a house written down by lines of plain words."""
