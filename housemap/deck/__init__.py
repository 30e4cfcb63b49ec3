"""Decks of paints: readers for tables, meter files and typed readings, and a built-in deck.

A deck is a `Mapping[str, Paint]`. Nothing here computes a colour or writes a file.
"""
