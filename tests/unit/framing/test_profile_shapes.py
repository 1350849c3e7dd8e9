"""Shapes of a moulding's face by the words of its name. Which word means which shape: common practice."""

import pytest

from app.framing import ProfileShape


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("Kestrel wedge 25, pale ash", ProfileShape.BEVELLED),
        ("Half-round 14, black", ProfileShape.ROUNDED),
        ("Tallow CUSHION 18", ProfileShape.ROUNDED),
        ("Deep scoop, walnut", ProfileShape.SCOOP),
        ("Reverse scoop 40", ProfileShape.REVERSE),
        ("Reeded 22, gilt", ProfileShape.REEDED),
        ("Orrery step 45", ProfileShape.STEPPED),
        ("Ogee 30", ProfileShape.OGEE),
        ("Box 20, limed", ProfileShape.FLAT),
    ],
)
def test_a_name_tells_its_shape(name, shape):
    assert ProfileShape.named(name) is shape


@pytest.mark.parametrize("name", ["", "Linden, limewashed", "Inflated 12", "Boxwood 20", "Stepney"])
def test_a_part_of_another_word_tells_nothing(name):
    assert ProfileShape.named(name) is None


@pytest.mark.parametrize("shape", ProfileShape)
def test_every_word_for_a_shape_means_that_one_alone(shape):
    assert all(ProfileShape.named(word) is shape for word in (shape.value, *shape.also))
    others = {word for other in ProfileShape if other is not shape for word in other.also}
    assert others.isdisjoint(shape.also)
