"""What is found in a house: one page a check, one report of them all."""

from housemap.checks.check import Change, Check, Limit
from housemap.checks.every import CHECKS, check_of
from housemap.checks.finding import Finding, Place, Severity
from housemap.checks.matters import Matter, matters_of
from housemap.checks.report import Report, report_of

__all__ = [
    "CHECKS",
    "Change",
    "Check",
    "Finding",
    "Limit",
    "Matter",
    "Place",
    "Report",
    "Severity",
    "check_of",
    "matters_of",
    "report_of",
]
