"""Component phrases: the words and places of a part as said, and where one phrase ends and the next begins."""

from __future__ import annotations

import pytest

from saidspec.extract.components import mentions
from saidspec.extract.materials import claim_materials
from saidspec.extract.mention import phrase
from tests.sentences import page_of, wrong


def phrases(text: str) -> list[str]:
    page = page_of(text)
    claim_materials(page)
    return [phrase(item.words, item.positions) for item in mentions(page)]


@pytest.mark.parametrize(("said", "component"), [
    ("the drain plug", "drain plug"),
    ("the bolts", "bolt"),
    ("both front brake hoses", "front brake hose"),
    ("the caliper bracket bolts", "caliper bracket bolt"),
    ("the new thermostat housing gasket", "thermostat housing gasket"),
    ("the left front wheel bearing", "front left wheel bearing"),
    ("the lower ball joint nut", "lower ball joint nut"),
    ("the bolts on the caliper bracket", "caliper bracket bolt"),
    ("the nut for the lower ball joint", "lower ball joint nut"),
    ("the brake hose on the right", "right brake hose"),
    ("the inner tie rod", "inner tie rod"),
    ("cylinder 3 injector", "cylinder 3 injector"),
    wrong("a particular part is not joined with the cylinder behind it", "injector on cylinder 3",
          "cylinder 3 injector"),
    ("glow plug in number two", "cylinder 2 glow plug"),
    ("the intake manifold studs", "intake manifold stud"),
    ("the shroud bolts", "shroud bolt"),
])  # fmt: skip
def test_words_and_places(said: str, component: str) -> None:
    assert phrases(said) == [component]


@pytest.mark.parametrize(("said", "components"), [
    ("the oil filter and the drain plug", ["oil filter", "drain plug"]),
    ("took the wheel off the hub", ["wheel", "hub"]),
    ("the rear pads, the front discs", ["rear pad", "front disc"]),
    ("the spark plug. The coil", ["spark plug", "coil"]),
    ("the water pump bolts thermostat housing", ["water pump bolt", "thermostat housing"]),
])  # fmt: skip
def test_where_a_phrase_ends(said: str, components: list[str]) -> None:
    assert phrases(said) == components


@pytest.mark.parametrize("said", [
    "put the kettle on", "it took me all morning", "that was the second round", "no idea why",
    "silicone grease on a rag",
    "rang him twice", "in the end it went",
])  # fmt: skip
def test_words_that_name_no_part(said: str) -> None:
    assert phrases(said) == []


def test_a_phrase_knows_what_it_is() -> None:
    (bolts,) = mentions(page_of("those front caliper bracket bolts"))
    assert (bolts.head, bolts.kind, bolts.fastener, bolts.plural, bolts.axis("end")) == ("bolt",
    "fastener", True, True, "front")
    (general,) = mentions(page_of("the bolts"))
    assert (general.general, bolts.general) == (True, False)
    (seal,) = mentions(page_of("the seal"))
    assert not seal.fastener
