"""Function words of English in the small sets by which the rules tell how phrases hang together.

Words of the trade are no part of this: those are in the rule files (`patterns/word_classes.toml` for the sets that
steer the reading).
"""

from __future__ import annotations

ARTICLES = frozenset({"the", "this", "that", "my", "its", "each", "every", "both", "a", "an", "these", "those", "all",
                      "his", "her"})
BE = frozenset({"is", "'s", "are", "was", "were"})  # "the bolts are", "twenty-one's the idler"

NEEDS = frozenset({"need", "needs", "want", "wants", "needing", "wanting"})  # "needs doing", "wants replacing"
LOOKING = frozenset({"inspect", "test", "measure"})  # actions that look for something

# What a pronoun stands for, by number.
MANY = frozenset({"them", "those", "these", "they", "both", "ones", "all"})
ONE = frozenset({"it", "that", "this", "one", "her", "him"})
PRONOUNS = ONE | MANY

# Prepositions, from the widest set to those of one use.
GOVERNING = frozenset({"on", "in", "around", "from", "at", "of", "round", "inside", "under", "behind", "between",
                       "near", "to", "along", "across", "through", "off", "into", "onto", "over", "with", "for",
                       "down"})
PLACES = GOVERNING - {"onto", "over", "for", "down"} | {"out"}  # behind a finding: "leaks around the piston"
PREPOSITIONS = frozenset({"on", "for", "in", "of", "from", "into", "to", "at", "around", "round", "across",
                                "through", "off", "between", "behind"})  # "35 on the slide pins"
# Between two phrases of one component: "bolts on the bracket".
JOINTS = frozenset({"on", "of", "for", "to", "in", "at", "from", "under", "behind", "holding", "hold", "into",
                    "through", "inside", "off", "along"})
# What hangs on one of these is said by the way: "off the knuckle", "behind the pump".
OBLIQUE = frozenset({"off", "from", "behind", "under", "with", "through", "onto", "against", "without", "by", "near",
                     "past", "out", "beside", "until", "till", "before"})
HANGING = frozenset({"on", "from", "in", "at", "under", "behind", "to", "near", "off", "into", "for", "between",
                     "inside"})  # a phrase behind one of these is seldom what "it" stands for
INSTRUMENTAL = frozenset({"with", "using", "by"})
OWN_NO = frozenset({"no", "not", "zero", "without", "never", "isn't", "nothing"})  # "no leaks": a "no" of the finding
# What figures are read off, and the words between it and its place: "the decal under the cowl asks for 1 mm".
STUCK_ON = frozenset({"sticker", "label", "decal", "plate", "placard", "tag", "emblem", "jamb"})
HELD_BY = frozenset({"under", "inside", "behind", "in", "by", "beside", "on", "of"})
