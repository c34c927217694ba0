"""The page: a whole check in one HTML file that asks nothing of any network."""

from swingcheck.page.file import LARGEST, page_html, sheet_data
from swingcheck.page.sheet import Sheet, clearance_data, measured_clearance, sheet, shop_card
from swingcheck.report.text import card_markup
