"""The terms of the lexicon in a spaCy phrase matcher, which grows with the words that are heard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from threading import Lock
from typing import TYPE_CHECKING

from saidspec.extract.lexicon import Lexicon, Phrase, Term

if TYPE_CHECKING:
    from spacy.matcher import PhraseMatcher
    from spacy.vocab import Vocab


@dataclass(frozen=True, slots=True)
class TermMatcher:
    """Finds the terms of a lexicon in normal forms.

    A phrase can only be said where its first word is, so the phrases of a first word are added to the matcher when
    that word is first heard: documents of all twenty thousand phrases would take longer to make than a note to read.
    """

    vocab: Vocab
    matcher: PhraseMatcher
    lexicon: Lexicon
    waiting: dict[str, list[Phrase]]  # phrases not yet in the matcher, by their first word
    _adding: Lock = field(default_factory=Lock, repr=False, compare=False)

    def found(self, words: list[str]) -> Iterator[tuple[int, int, Term]]:
        """The terms said in a run of normal forms, with the words start..end (exclusive) that say them."""
        from spacy.tokens import Doc

        with self._adding:
            new = [phrase for word in self.waiting.keys() & set(words) for phrase in self.waiting.pop(word)]
            if new:
                self.matcher.add("term", [Doc(self.vocab, words=list(phrase)) for phrase in new])
        # A lexeme is one token of the document: it is made of the normal forms, so ORTH matches the rule files.
        for _, start, end in self.matcher(Doc(self.vocab, words=words or ["\n"])):
            for term in self.lexicon.terms.get(tuple(words[start:end]), ()):
                yield start, end, term


def term_matcher(lexicon: Lexicon) -> TermMatcher:
    """A matcher of all terms of a lexicon, with a vocabulary of its own: the program looks at the words alone."""
    from spacy.matcher import PhraseMatcher
    from spacy.vocab import Vocab

    vocab = Vocab()
    waiting: dict[str, list[Phrase]] = {}
    for phrase in lexicon.terms:
        waiting.setdefault(phrase[0], []).append(phrase)
    return TermMatcher(vocab, PhraseMatcher(vocab, attr="ORTH"), lexicon, waiting)
