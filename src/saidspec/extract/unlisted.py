"""Words of no rule file that name a part all the same, by where they stand."""

from __future__ import annotations

from saidspec.extract.passage import Passage, is_stop

NO_NAMES = ("not:", "system", "doubtful", "socketed", "standing")


def unlisted(page: Passage, at: int) -> bool:
    """Whether a word may name a part though no rule file has it: "the cooler line", "gearbox steady bolt"."""
    word, lex = page.word(at), page.lexemes[at]
    if lex.kind != "word" or len(word) < 4 or is_stop(word) or word in page.classes.no_name or (
            lex.text.endswith(("ed", "ly")) or (lex.text.endswith("ing") and page.word(at - 1) != "the")):
        return False
    return not any(at in covered for name, covered in page.covered.items() if not name.startswith(NO_NAMES))
