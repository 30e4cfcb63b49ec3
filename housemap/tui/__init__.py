"""Everything on the screen; the only package that imports Textual."""
