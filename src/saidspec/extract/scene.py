"""Where a value stands: the passage with its phrases, what attention is on, the values before, the trade's words."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.discourse.attach import Neighbours
from saidspec.discourse.attention import Attention
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.memory import Memory
from saidspec.extract.passage import Passage
from saidspec.extract.word_classes import WordClasses


@dataclass(frozen=True, slots=True)
class Scene:
    """What the readers of values look at; attention and memory move along as the passage is read."""

    page: Passage
    lexicon: Lexicon
    attention: Attention
    near: Neighbours
    memory: Memory
    words: WordClasses
