"""The schedule as one HTML page: for print and for a phone, with no script and no request."""

from housemap.schedule.page.page import as_html

__all__ = ["as_html"]
