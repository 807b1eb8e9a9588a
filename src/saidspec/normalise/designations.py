"""Designations written in one piece: threads, bits, tyres, bulbs, grades of fluids, trouble codes, dates.

Metric threads ISO 965-1 (M8x1.25), hexalobular drives ISO 10664 (T45), tyres ISO 4000-1 (225/60R17), filament lamps
IEC 60809 (H7, W5W), viscosity SAE J300 and J306 (5W-30, 75W-90), ISO 3448 (ISO VG 46), trouble codes ISO 15031-6
(P0301); bolt circles of wheels in mm are common practice.
"""

from __future__ import annotations

import re
from decimal import Decimal

TROUBLE = re.compile(r"[PBCU][0-3][0-9A-F]{3}(?:-\d{2})?")
VISCOSITY = re.compile(r"(\d{1,2}(?:\.\d)?)W[-/]?(\d{1,3})")
THREAD = re.compile(r"M(\d{1,2})(?:[x×X*-](\d(?:[.,]\d{1,2})?))?(?:[x×X*](\d{1,3}))?")
BOLT = re.compile(r"M(\d{1,2})[x×X*](\d{2,3})")
BIT = re.compile(r"(?:T|TX|E|H|PH|PZ|XZN|RIBE)-?(\d{1,3})")
TYRE = re.compile(r"(?:P|LT|ST|T)?\d{2,3}/\d{2,3}(?:Z?R|B|D|-|/)\d{2}(?:\.5)?(?:C|XL|LT)?|\d{3}R\d{2}C?")
TYRE_WIDE = re.compile(r"(\d{2})X(\d{1,2}(?:\.\d{1,2})?)(R|-)(\d{1,2}(?:\.5)?)")
TYRE_INCH = re.compile(r"[2-9]\.\d{2}(?:/[2-9]\.\d{2})?-(?:[4-9]|1\d|2[0-3])")
TYRE_DASHED = re.compile(r"(1[0-9]5|2\d5|3[0-5]5|1[0-9]0)-([2-9][05])-(1[0-9]|2[0-4])")
BULB = re.compile(r"H(?:[1-9]|1[0-9])|HB[1-5]|HIR2|D[1-8]S|P\d{1,2}/?\d?W|PY?21W|W\d{1,2}W|R\d{1,2}W|C\d{1,2}W"
                  r"|T\d{1,2}W?|H\d{1,2}W")
BOLT_PATTERN = re.compile(r"[3-8]X\d{2,3}(?:\.\d{1,2})?")
BOLT_CIRCLES = {Decimal(each) for each in ["98", "100", "105", "108", "110", "112", "114.3", "115", "118", "120",
    "120.65", "127", "130", "139.7", "150", "160", "165.1", "170", "200", "205"]}
REFRIGERANT = re.compile(r"R-?(?:12|22|134A|152A|1234YF|744)")  # ASHRAE 34
SEAL = re.compile(r"\d{1,3}X\d{1,3}X\d{1,2}(?:\.\d)?")  # shaft, bore and width of a seal in mm, ISO 6194-1
DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
PART = re.compile(r"[A-Z0-9]+(?:[-./][A-Z0-9]+)*")
CHAINS = {415, 420, 428, 520, 525, 530, 532, 630}  # ANSI B29.1 and its motorcycle sizes: pitch in eighths, width
UNC = {("1/4", 20), ("1/4", 28), ("5/16", 18), ("5/16", 24), ("3/8", 16), ("3/8", 24), ("7/16", 14), ("7/16", 20),
       ("1/2", 13), ("1/2", 20), ("9/16", 12), ("9/16", 18), ("5/8", 11), ("5/8", 18)}  # ASME B1.1
WINTER = {Decimal(each) for each in ["0", "2.5", "5", "7.5", "10", "15", "20", "25", "70", "75", "80",
    "85"]}  # SAE J300, J306; fork oils 2.5 and 7.5
HIGH = {8, 12, 16, 20, 30, 40, 50, 60, 65, 75, 80, 85, 90, 110, 140, 190, 250}


def classify(text: str) -> tuple[str, str] | None:
    """(kind, code) of a designation written in one piece, or None."""
    code = text.upper().replace("×", "X")
    if TROUBLE.fullmatch(code):
        return "trouble", code
    hit = VISCOSITY.fullmatch(code)
    if hit:
        return "viscosity", f"{hit[1]}W-{hit[2]}"
    thread = _thread(text)
    if thread:
        return "thread", thread
    if BIT.fullmatch(code):
        return "bit", code.replace("TX", "T").replace("-", "")
    tyre = _tyre(code)
    if tyre:
        return "tyre", tyre
    if REFRIGERANT.fullmatch(code):
        return "class", f"R{code.strip('R-').replace('A', 'a').replace('YF', 'yf')}"
    if BOLT_PATTERN.fullmatch(code) or SEAL.fullmatch(code):
        return "pattern", code.lower()
    return ("date", code) if DATE.fullmatch(code) else None


def _thread(text: str) -> str | None:
    """"M8x1,25" → M8x1.25, "m8" → M8, "M8x40" (a length) as it is."""
    name = text[:1].upper() + text[1:]
    hit = THREAD.fullmatch(name)
    if hit and 2 <= int(hit[1]) <= 64:
        return f"M{hit[1]}" + (f"x{hit[2].replace(',', '.')}" if hit[2] else "") + (f"x{hit[3]}" if hit[3] else "")
    hit = BOLT.fullmatch(name)
    return f"M{hit[1]}x{hit[2]}" if hit and 2 <= int(hit[1]) <= 64 else None


def _tyre(code: str) -> str | None:
    if TYRE.fullmatch(code) or TYRE_INCH.fullmatch(code):
        return code
    hit = TYRE_WIDE.fullmatch(code)
    if hit and float(hit[4]) < float(hit[1]):
        return f"{hit[1]}x{hit[2]}{hit[3]}{hit[4]}"
    hit = TYRE_DASHED.fullmatch(code)
    return f"{hit[1]}/{hit[2]}R{hit[3]}" if hit else None
