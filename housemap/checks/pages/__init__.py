"""Checks by topic: to add one, write it here and name it in `checks/every.py`."""
