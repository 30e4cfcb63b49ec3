"""Choosing from a deck of thousands: its paints with their colours, searched and compared."""
