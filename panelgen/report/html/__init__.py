"""The report as one HTML page for people: pictures, findings by cause, waivers, assumptions, cautions.

The page needs nothing but itself, reads in light and dark, and prints on Letter and A4.
"""

from panelgen.report.html.page import report_html

__all__ = ["report_html"]
