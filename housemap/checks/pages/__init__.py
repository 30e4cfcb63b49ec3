"""One module a check: to add one, write its page and name it in `checks/every.py`."""
