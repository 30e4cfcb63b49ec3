"""Many paints judged at once: what each would cost on a surface, by every check in every light."""
