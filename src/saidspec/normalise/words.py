"""The normal form of a word: lower case, singular, one spelling.  Rule files and notes go through the same form."""

from __future__ import annotations

from functools import lru_cache

# American and other spellings of the trade's words, as one spelling.
SPELLINGS = {
    "tire": "tyre", "calliper": "caliper", "disk": "disc", "meter": "metre", "liter": "litre", "center": "centre",
    "gray": "grey", "plow": "plough", "aluminum": "aluminium", "color": "colour", "mold": "mould", "odour": "odor",
    "millimeter": "millimetre", "centimeter": "centimetre", "kilometer": "kilometre", "milliliter": "millilitre",
    "gasses": "gas", "analyze": "analyse", "carburetor": "carburettor", "carburetter": "carburettor", "okay": "ok",
    "mic": "micrometer", "kerb": "curb", "kinda": "kind",
}  # fmt: skip
IRREGULAR = {
    "feet": "foot", "teeth": "tooth", "halves": "half", "knives": "knife", "shelves": "shelf", "leaves": "leaf",
    "men": "man", "axes": "axe", "chassis": "chassis", "series": "series", "lens": "lens", "gas": "gas", "bus": "bus",
    "plus": "plus", "minus": "minus", "always": "always", "does": "does", "goes": "goes", "yes": "yes", "news": "news",
    "this": "this", "these": "these", "those": "those", "his": "his", "hers": "hers", "ours": "ours", "less": "less",
    "across": "across", "means": "means", "besides": "besides", "sometimes": "sometimes", "afterwards": "afterwards",
    "towards": "towards", "backwards": "backwards", "forwards": "forwards", "perhaps": "perhaps", "abs": "abs",
    "tps": "tps", "pliers": "pliers", "loss": "loss", "us": "us", "looks": "looks", "says": "says", "reads": "reads",
    "takes": "takes", "gets": "gets", "calls": "calls", "wants": "wants", "needs": "needs", "gives": "gives",
    "celsius": "celsius", "hobbs": "hobbs", "was": "was", "has": "has", "its": "its", "is": "is", "as": "as",
    "lbs": "lbs", "thats": "thats", "whats": "whats", "theres": "theres", "heres": "heres",
}  # fmt: skip


@lru_cache(maxsize=65536)
def normal_form(word: str) -> str:
    """"Calipers" → "caliper", "bushes" → "bush", "tires" → "tyre", "bodies" → "body"; function words stay."""
    word = word.lower()
    if word in SPELLINGS:
        return SPELLINGS[word]
    if word in IRREGULAR:
        return IRREGULAR[word]
    if len(word) > 3 and word.endswith("s") and word[-2] not in "sui'":
        if word.endswith("ies") and len(word) > 4:
            word = word[:-3] + "y"
        elif word.endswith(("sses", "shes", "ches", "xes", "zes")):
            word = word[:-2]
        else:
            word = word[:-1]
    return SPELLINGS.get(word, word)
