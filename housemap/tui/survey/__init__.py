"""Surveying by one line of plain words: pure, without Textual."""
