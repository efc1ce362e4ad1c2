"""Darkrooms that never were: papers, lights, baths and shutters that vary from sheet to sheet, and plain ways to find the exposure in them."""
