"""The page: a whole check in one HTML file that asks nothing of any network."""

from swingcheck.page.file import Sheet, clearance_data, page_html, sheet, sheet_data, shop_card
from swingcheck.report.text import card_markup
