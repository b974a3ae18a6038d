"""What the maker takes to the bench: cutting list, full-size strips, materials, assembly, fitting record."""

from cage3d.sheets.pages.measuring import measuring_sheet
from cage3d.sheets.sheets import Sheets, make_sheets, refuse_options

__all__ = ["Sheets", "make_sheets", "measuring_sheet", "refuse_options"]
