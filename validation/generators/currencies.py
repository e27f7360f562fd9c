"""Compares the currencies of crates/pricing with two open packages.

    pip install pycountry babel
    python3 validation/generators/currencies.py

Codes come from pycountry, which carries the list of ISO 4217; decimals from
Babel (CLDR), whose figures for some currencies follow cash in use and not the
list: these are printed, and are not counted.
"""

import re
import pathlib
import sys

import pycountry
from babel.core import get_global

text = (pathlib.Path(__file__).parents[2] / "crates/pricing/src/currencies.rs").read_text()
ours = {code: int(decimals) for code, decimals in re.findall(r'\("([A-Z]{3})", (\d)\)', text)}
two = re.search(r'TWO: &str = "(.*?)";', text, re.S).group(1)
ours |= {code: 2 for code in re.findall(r"[A-Z]{3}", two)}

# Metals, bond units, drawing rights, test codes: nobody is paid in them.
NO_MONEY = {"XAG", "XAU", "XBA", "XBB", "XBC", "XBD", "XDR", "XPD", "XPT", "XSU", "XTS", "XUA", "XXX"}
theirs = {currency.alpha_3 for currency in pycountry.currencies} - NO_MONEY

faults = 0
for code in sorted(theirs - set(ours)):
    print("missing:", code)
    faults += 1
for code in sorted(set(ours) - theirs):
    print("not on the list:", code)
    faults += 1

fractions = get_global("currency_fractions")
for code, decimals in sorted(ours.items()):
    other = fractions.get(code, fractions["DEFAULT"])[0]
    if other != decimals:
        # CLDR prints cash in use with fewer decimals than the list has.
        note = "differs by cash in use" if other < decimals else "WRONG"
        faults += note == "WRONG"
        print(f"{code}: {decimals} here, {other} there: {note}")
print(len(ours), "currencies,", faults, "faults")
sys.exit(bool(faults))
