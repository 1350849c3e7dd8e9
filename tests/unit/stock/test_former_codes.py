"""What was agreed under a former code is read under the code of today."""

from dataclasses import replace

from app.pricing import Chosen
from app.pricing.chosen import ChosenCount
from app.stock.former_codes import AS_WRITTEN, Codes
from tests.builders import worked as prices

CODES = Codes(now=(("LIN-20", "LN-20"), ("M-101", "MAT-1"), ("R-1", "RING")))


def test_a_code_is_that_of_today_in_any_case_and_otherwise_itself():
    assert CODES.current("lin-20") == "LN-20"
    assert CODES.current("LN-20") == "LN-20"
    assert CODES.current("G-2") == "G-2"
    assert AS_WRITTEN.current("LIN-20") == "LIN-20"


def test_a_material_changes_its_code_alone():
    assert CODES.material(prices.MOULDING) == replace(prices.MOULDING, code="LN-20")
    assert CODES.material(prices.GLASS) is prices.GLASS


def test_what_a_part_is_keeps_its_sizes():
    assert CODES.what("LIN-20 630 × 530") == "LN-20 630 × 530"
    assert CODES.what("LIN-20") == "LN-20"
    assert CODES.what("G-2 600 × 500") == "G-2 600 × 500"


def test_every_place_of_a_choice_is_read_under_the_codes_of_today():
    chosen = Chosen(
        frames=(prices.MOULDING,),
        mats=(prices.TOP_MAT, prices.UNDER_MAT),
        glazing=prices.GLASS,
        backing=prices.BACKING,
        hardware=(ChosenCount(material=prices.RING, count=2),),
        extras=(ChosenCount(material=prices.LABEL, count=1),),
    )
    assert CODES.chosen(chosen) == Chosen(
        frames=(replace(prices.MOULDING, code="LN-20"),),
        mats=(replace(prices.TOP_MAT, code="MAT-1"), prices.UNDER_MAT),
        glazing=prices.GLASS,
        backing=prices.BACKING,
        hardware=(ChosenCount(material=replace(prices.RING, code="RING"), count=2),),
        extras=(ChosenCount(material=prices.LABEL, count=1),),
    )


def test_sheets_and_fillets_of_a_choice_are_read_so_too():
    codes = Codes(now=(("G-2", "GLASS"), ("B-3", "BOARD"), ("FIL-10", "FILLET")))
    chosen = Chosen(
        frames=(prices.MOULDING,),
        mats=(prices.TOP_MAT,),
        glazing=prices.GLASS,
        mount_board=prices.BACKING,
        backing=prices.BACKING,
        fillet=prices.FILLET,
    )
    now = codes.chosen(chosen)
    assert [
        material.code
        for material in (now.glazing, now.mount_board, now.backing, now.fillet)
        if material is not None
    ] == ["GLASS", "BOARD", "BOARD", "FILLET"]


def test_a_choice_without_a_former_code_stays_the_same():
    chosen = Chosen(frames=(prices.MOULDING,), mats=(), glazing=prices.GLASS)
    assert AS_WRITTEN.chosen(chosen) is chosen
