"""Advice: the client's wishes, the shape of a scheme, sets around a paint, whole houses."""
