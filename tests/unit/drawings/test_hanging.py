"""Where pieces hang on a wall, worked by hand.

Usual heights are common practice: the middle of what hangs at eye level, 1450 to 1550 mm or 57 to 60 in above the floor;
150 to 250 mm, or 6 to 10 in, above a sofa. A door's leaf of 800 × 2000 mm is common practice too.
"""

from typing import Any

import pytest

from app.drawings.wall.hanging import USUAL_ABOVE, USUAL_MIDDLE, Alignment, Hanging, ToHang, hang
from app.drawings.wall.things import LEAF, THINGS, Thing
from app.errors import Invalid
from app.lengths import Size, Unit, inches, mm

SMALL, LARGE = Size(mm(300), mm(200)), Size(mm(500), mm(400))


def hung(*sizes: Size, gap: int = 60, **said: Any) -> Hanging:
    return hang(ToHang(sizes=sizes, unit=Unit.MM, gap=mm(gap), **said))


def refused(*sizes: Size, **said: Any) -> tuple[str, str]:
    with pytest.raises(Invalid) as caught:
        hung(*sizes, **said)
    [fault] = caught.value.faults
    return fault.path, fault.message


def test_usual_heights_are_those_of_common_practice():
    assert mm(1450) <= USUAL_MIDDLE[Unit.MM] <= mm(1550)
    assert inches(57) <= USUAL_MIDDLE[Unit.IN] <= inches(60)
    assert mm(150) <= USUAL_ABOVE[Unit.MM] <= mm(250)
    assert inches(6) <= USUAL_ABOVE[Unit.IN] <= inches(10)


def test_a_door_s_leaf_and_a_sofa_are_of_usual_sizes():
    assert Size(mm(800), mm(2000)) == LEAF
    assert THINGS[Thing.SOFA].size == Size(mm(2000), mm(800))


def test_one_piece_hangs_with_its_middle_at_eye_level():
    hanging = hung(LARGE)
    [place] = hanging.places
    assert (place.left, place.right) == (mm(-250), mm(250))
    assert (place.foot, place.top) == (mm(1300), mm(1700))
    assert hanging.size == LARGE


def test_two_in_a_row_are_60_apart_about_the_middle():
    """300 + 60 + 500 = 860, half of it 430 to each side; the small one's middle is at 1500 too."""
    small, large = hung(SMALL, LARGE).places
    assert (small.left, small.right) == (mm(-430), mm(-130))
    assert (large.left, large.right) == (mm(-70), mm(430))
    assert (small.foot, small.top) == (mm(1400), mm(1600))
    assert (small.across, large.across) == (mm(-280), mm(180))


@pytest.mark.parametrize(
    ("alignment", "foot"),
    [(Alignment.CENTRES, 1400), (Alignment.TOPS, 1500), (Alignment.BOTTOMS, 1300)],
)
def test_a_row_stands_on_a_level_of_centres_or_of_edges(alignment, foot):
    small, large = hung(SMALL, LARGE, alignment=alignment).places
    assert small.foot == mm(foot)
    assert large.foot == mm(1300)


def test_one_above_three():
    """Rows of 400 and 200 with 60 between: 660 high, from 1170 to 1830 about 1500."""
    hanging = hung(LARGE, SMALL, SMALL, SMALL, rows=(1, 3))
    assert hanging.size == Size(mm(1020), mm(660))
    above, left, middle, right = hanging.places
    assert (above.left, above.foot, above.top) == (mm(-250), mm(1430), mm(1830))
    assert [place.left for place in (left, middle, right)] == [mm(-510), mm(-150), mm(210)]
    assert {place.foot for place in (left, middle, right)} == {mm(1170)}


def test_above_a_sofa_it_hangs_200_over_its_back():
    hanging = hung(LARGE, thing=Thing.SOFA)
    assert hanging.foot == mm(1000)
    assert hanging.thing_left == mm(-1000)
    assert hung(LARGE, thing=Thing.SOFA, above=mm(150)).foot == mm(950)


def test_in_inches_it_hangs_at_58_and_8_above_a_sofa():
    sixteen = Size(inches(20), inches(16))
    said = {"sizes": (sixteen,), "unit": Unit.IN, "gap": inches(2)}
    assert hang(ToHang(**said)).middle == inches(58)
    assert hang(ToHang(**said, thing=Thing.SOFA)).foot == mm(800) + inches(8)


def test_beside_a_door_it_hangs_in_the_middle_of_the_wall_that_is_left():
    """A wall of 4000 less a door of 800 + 2 × 70 and 100 from the corner leaves 2960, half of it to each side."""
    hanging = hung(LARGE, thing=Thing.DOOR, wall=Size(mm(4000), mm(2500)))
    assert hanging.wall_left == mm(-1480)
    assert hanging.thing_left == mm(1480)
    assert hung(LARGE, thing=Thing.DOOR).thing_left == mm(250 + 350)


def test_rows_are_as_few_as_fit():
    five = (LARGE,) * 5  # 5 × 500 + 4 × 60 = 2740; 3 × 500 + 2 × 60 = 1620
    assert hung(*five).rows == (3, 2)
    assert hung(*five, wall=Size(mm(2740), mm(2500))).rows == (5,)
    assert hung(*five, wall=Size(mm(1100), mm(2500))).rows == (2, 2, 1)


def test_rows_are_longer_rather_than_higher_than_a_room():
    """Four of 500 in a row are 2180, five 2740: twelve would be three rows of 700 with two gaps, 2220; two rows are 1460."""
    twelve = hung(*(Size(mm(500), mm(700)),) * 12)
    assert (twelve.rows, twelve.size) == ((6, 6), Size(mm(3300), mm(1460)))
    high = Size(mm(300), mm(1800))
    assert hung(*(high,) * 9).rows == (9,)


def test_what_is_wider_or_higher_than_the_wall_is_told():
    path, said = refused(LARGE, LARGE, rows=(2,), wall=Size(mm(1000), mm(2500)))
    assert path == "wall"
    assert "1060 mm wide" in said
    assert "1000 mm" in said
    path, said = refused(LARGE, LARGE, rows=(1, 1), wall=Size(mm(1000), mm(800)))
    assert path == "wall"
    assert "860 mm high" in said
    assert "800 mm" in said
    path, said = refused(SMALL, thing=Thing.SOFA, wall=Size(mm(1800), mm(2500)))
    assert path == "wall"
    assert "sofa is 2000 mm wide" in said
    path, said = refused(LARGE, thing=Thing.SOFA, wall=Size(mm(3000), mm(1100)))
    assert path == "wall"
    assert "400 mm high, and above the sofa the wall has 300 mm" in said
    path, said = refused(SMALL, thing=Thing.DOOR, wall=Size(mm(3000), mm(1900)))
    assert path == "wall"
    assert "The door is 2070 mm high" in said
    path, said = refused(LARGE, thing=Thing.DOOR, wall=Size(mm(1500), mm(2500)))
    assert path == "wall"
    assert "beside the door 460 mm" in said


def test_a_height_behind_the_sofa_is_refused_with_the_least_that_can_be():
    """Half of 400 above 800 is 1000; at 900 its lower edge is 100 behind."""
    path, said = refused(LARGE, thing=Thing.SOFA, middle=mm(900))
    assert path == "height"
    assert "100 mm behind the sofa, which is 800 mm high" in said
    assert "1000 mm or more" in said
    assert hung(LARGE, thing=Thing.SOFA, middle=mm(1000)).foot == mm(800)


def test_a_height_below_the_floor_or_above_the_wall_is_refused():
    path, said = refused(LARGE, middle=mm(150))
    assert (path, "50 mm below the floor" in said) == ("height", True)
    path, said = refused(LARGE, middle=mm(2400), wall=Size(mm(3000), mm(2500)))
    assert (path, "100 mm above the wall" in said) == ("height", True)
    path, said = refused(LARGE, thing=Thing.SOFA, above=mm(1400), wall=Size(mm(3000), mm(2500)))
    assert (path, "at most 1300 mm above the sofa" in said) == ("above", True)


def test_the_usual_height_gives_way_to_the_wall_and_the_floor():
    assert hung(Size(mm(500), mm(3400))).foot == mm(0)
    assert hung(LARGE, wall=Size(mm(3000), mm(1600))).top == mm(1600)
    assert hung(LARGE, thing=Thing.SOFA, wall=Size(mm(3000), mm(1300))).foot == mm(900)


def test_height_and_distance_are_not_both_taken():
    path, said = refused(LARGE, thing=Thing.SOFA, middle=mm(1500), above=mm(200))
    assert path == "above"
    assert "leave one of the two blank" in said
    assert hung(LARGE, thing=Thing.DOOR, middle=mm(1500), above=mm(200)).middle == mm(1500)


def test_rows_that_hold_another_number_are_refused():
    path, said = refused(LARGE, LARGE, LARGE, rows=(1, 3))
    assert path == "rows"
    assert "hold 4 pieces; 3 are hung" in said
