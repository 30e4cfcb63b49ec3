"""What is found in a house: one page a check, one report of them all."""

from housemap.checks.check import Change, Check, Limit
from housemap.checks.every import CHECKS, check_of
from housemap.checks.finding import Finding, Place
from housemap.checks.report import Cause, Report, causes_of, report_of
from housemap.model.severity import Severity

__all__ = [
    "CHECKS", "Cause", "Change", "Check", "Finding", "Limit", "Place", "Report", "Severity",
    "causes_of", "check_of", "report_of",
]  # fmt: skip
