"""The settings on their pages: each section kept as typed, with what depends on it looked after."""

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.cutting import Together
from app.lengths import Size, Unit, inches, mm
from app.money import TaxRounding
from app.orders import Allowances, Customer, CuttingHabits, MatWord, Shop
from app.pricing import When
from app.services import customers, price_book
from app.services import shop as shops
from app.storage import Stamp, Store, check_database
from tests.builders.kept import MOULDING as ITS_MOULDING
from tests.builders.watercolour import backing, glazing, mat, moulding
from tests.web.conftest import NOW, SHOP
from tests.web.reading import Page

ACT = Stamp(who="", now=NOW)
SECTIONS = ("shop", "allowances", "usual", "work", "tax", "prices", "cutting", "weight", "promises")


def shop_of(store: Store) -> Shop:
    return shops.get(store).value


def form(page: TestClient, section: str) -> dict[str, str]:
    return Page(page.get(f"/settings/{section}").text).values


def keep(page: TestClient, section: str, **typed: str) -> Page:
    """The section posted with some fields changed; `__` stands for a dot."""
    changed = {name.replace("__", "."): text for name, text in typed.items()}
    data = {**form(page, section), **changed, "action": "save"}
    return Page(page.post(f"/settings/{section}", data=data).text)


@pytest.mark.parametrize("section", SECTIONS)
def test_a_section_kept_untouched_changes_nothing(
    page: TestClient, store: Store, section: str
) -> None:
    keep(page, section)
    expected = (
        SHOP if section != "prices" else replace(SHOP, rounding_step=shop_of(store).rounding_step)
    )
    assert shop_of(store) == expected
    assert shops.get(store).version == 2


def test_who_the_shop_is(page: TestClient, store: Store) -> None:
    keep(
        page, "shop", name="Fen & Frame", address="1 Rush Bank\nFenmarsh",
        people="Ilse\n\nBo 🖼\nIlse", mat_word="mount", paper="Letter",
    )  # fmt: skip
    shop = shop_of(store)
    assert (shop.name, shop.address) == ("Fen & Frame", "1 Rush Bank\nFenmarsh")
    assert shop.people == ("Ilse", "Bo 🖼")
    assert shop.mat_word is MatWord.MOUNT


def test_the_tax_number_is_optional_and_kept_as_typed(page: TestClient, store: Store) -> None:
    assert shop_of(store).tax_number == ""
    keep(page, "shop", tax_number=" XX 123 456 789 ")
    assert shop_of(store).tax_number == "XX 123 456 789"
    answer = keep(page, "shop", tax_number="9" * 61)
    assert "at most 60" in answer.errors["tax-number"]
    assert shop_of(store).tax_number == "XX 123 456 789"


def test_whoever_is_chosen_in_the_foot_is_remembered(page: TestClient) -> None:
    keep(page, "shop", people="Ilse\nBo 🖼")
    page.post("/who", data={"who": "Bo 🖼", "next": "/customers"})
    assert Page(page.get("/customers").text).values["who"] == "Bo 🖼"
    page.post("/who", data={"who": "a stranger", "next": "/customers"})
    assert "Bo 🖼" not in Page(page.get("/customers").text).values.values()


@pytest.mark.parametrize("path", ["//elsewhere.example/x", "https://elsewhere.example", "/\\x", ""])
def test_choosing_who_works_never_leads_away(page: TestClient, path: str) -> None:
    answer = page.post("/who", data={"who": "", "next": path}, follow_redirects=False)
    assert answer.headers["location"] == "/"


def test_allowances_are_exact_in_either_unit_and_blank_is_the_usual(
    page: TestClient, store: Store
) -> None:
    keep(page, "allowances", overlap='3/16"', reveal="7,5", gap="", under_way="own-edges", step="1")
    shop = shop_of(store)
    assert shop.allowances.overlap == inches("3/16")
    assert shop.allowances.reveal == mm("7.5")
    assert shop.allowances.gap == mm(10)  # G2, the usual
    assert shop.step == mm(1)
    assert form(page, "allowances")["overlap"] == '3/16"'


def test_all_faults_stand_beside_their_fields(page: TestClient, store: Store) -> None:
    shown = keep(page, "allowances", overlap="-3", gap="1e9", reveal="NaN", border="🖼", step="0.7")
    assert set(shown.errors) == {"overlap", "gap", "reveal", "border", "step"}
    assert shown.values["border"] == "🖼"
    assert shop_of(store) == SHOP


def test_a_limit_of_a_notice_that_cannot_be_read_is_refused_too(
    page: TestClient, store: Store
) -> None:
    shown = keep(page, "allowances", smallest_border="wide", least_bridge="90")
    assert 'Type a length such as 50 mm or 2".' in shown.text
    assert shop_of(store).allowances == Allowances.usual(Unit.MM)


def test_the_labour_table_is_the_shops_own(page: TestClient, store: Store) -> None:
    keep(page, "work", hourly_rate="41.50", operations__0__fixed="6.5", operations__0__when="frame")
    labour = shop_of(store).labour
    assert labour.hourly_rate.minor == 4150
    assert labour.operations[0].fixed == Fraction(13, 2)
    assert labour.operations[0].when is When.FRAME
    assert labour.operations[1:] == SHOP.labour.operations[1:]


def test_operations_stand_in_a_table_whose_every_field_has_a_label(page: TestClient) -> None:
    html = page.get("/settings/work").text
    heads = re.findall(
        r"<span>([^<]+)</span>", html.partition("row-heads")[2].partition("data-row")[0]
    )
    assert heads[2:] == [
        "each time", "a metre", "a layer", "a window", "a m²", "once for all alike"
    ]  # fmt: skip
    rows = len(SHOP.labour.operations)
    for label in heads[2:]:
        assert len(re.findall(rf"<label [^>]*>(?:<input[^>]*><span>)?{label}<", html)) == rows + 1
    assert '<div class="deciding">' in html


def test_an_operation_is_added_and_dropped_by_buttons_that_need_no_javascript(
    page: TestClient, store: Store
) -> None:
    typed = form(page, "work")
    count = len(SHOP.labour.operations)
    added = page.post("/settings/work", data={**typed, "action": "add:operations"})
    values = Page(added.text).values
    assert f"operations.{count}.name" in values
    values |= {f"operations.{count}.name": "Wash the glass", f"operations.{count}.fixed": "3"}
    page.post("/settings/work", data={**values, "action": "save"})
    assert shop_of(store).labour.operations[-1].code == "wash-the-glass"
    dropped = page.post(
        "/settings/work", data={**form(page, "work"), "action": "remove:operations:0"}
    )
    assert len(shop_of(store).labour.operations) == count + 1
    page.post("/settings/work", data={**Page(dropped.text).values, "action": "save"})
    operations = shop_of(store).labour.operations
    assert len(operations) == count
    assert operations[0] == SHOP.labour.operations[1]


def test_a_time_that_is_no_number_stands_at_its_own_cell(page: TestClient) -> None:
    shown = keep(page, "work", operations__2__per_layer="x", operations__3__name="", hourly_rate="")
    assert set(shown.errors) == {"operations-2-per-layer", "operations-3-name", "hourly-rate"}


def test_tax_rates_are_the_shops_own(page: TestClient, store: Store) -> None:
    keep(
        page, "tax", stated="without", rounding="by-line", rates__0__percent="21",
        rates__2__name="Reduced", rates__2__percent="9,5",
    )  # fmt: skip
    shop = shop_of(store)
    assert [(rate.code, rate.percent) for rate in shop.tax_rates] == [
        ("standard", Fraction(21, 100)),
        ("none", Fraction(0)),
        ("reduced", Fraction(19, 200)),
    ]
    assert not shop.tax_policy.included
    assert shop.tax_policy.rounding is TaxRounding.BY_LINE


def test_a_rate_that_is_borne_stays(page: TestClient, store: Store) -> None:
    price_book.add(store, moulding(tax="none"), ACT)
    for row, sentence in ((0, "is the standard rate"), (1, "1 material bears")):
        dropped = page.post(
            "/settings/tax", data={**form(page, "tax"), "action": f"remove:rates:{row}"}
        )
        shown = Page(
            page.post("/settings/tax", data={**Page(dropped.text).values, "action": "save"}).text
        )
        assert sentence in shown.errors["rates"]
    assert shop_of(store) == SHOP


def test_a_markup_table_slides_over_the_cost(page: TestClient, store: Store) -> None:
    added = page.post("/settings/prices", data={**form(page, "prices"), "action": "add:tables"})
    values = Page(added.text).values | {
        "tables.0.name": "Mouldings",
        "tables.0.steps.0.up_to": "4.00",
        "tables.0.steps.0.factor": "3.4",
        "tables.0.steps.1.factor": "2,6",
        "rounding_step": "0.50",
        "kerf": "3",
    }
    page.post("/settings/prices", data={**values, "action": "save"})
    shop = shop_of(store)
    (table,) = shop.markup_tables
    assert table.code == "mouldings"
    assert table.factor_for(Fraction(400)) == Fraction(34, 10)
    assert table.factor_for(Fraction(401)) == Fraction(26, 10)
    assert shop.rounding_step is not None
    assert shop.rounding_step.minor == 50
    assert shop.saw_loss == mm("8.5")  # C1: 2 × 3 mm × 1.41421 = 8.4853, up to 0.1 mm
    price_book.add(store, moulding(), ACT)
    assert form(page, "prices")["tables.0.steps.1.factor"] == "2.6"


def test_a_cut_of_the_saw_that_no_blade_makes_is_refused(page: TestClient, store: Store) -> None:
    shown = keep(page, "prices", kerf="4000")
    assert shown.errors["kerf"] == ("The saw's cut is 4000 mm; at most 25.4 mm or 1\" is read.")
    assert form(page, "prices")["saw_loss"] == "8.5"
    keep(page, "prices", kerf="1 in")
    assert shop_of(store).saw_loss == mm("71.9")  # 2 × 25.4 × 1.41421 = 71.842, up to 0.1 mm


def test_a_table_by_which_something_sells_stays(page: TestClient, store: Store) -> None:
    keep(page, "prices", tables__0__name="Boards", tables__0__steps__0__factor="3")
    price_book.add(store, mat(), ACT)
    shown = keep(page, "prices", tables__0__name="", tables__0__steps__0__factor="")
    assert "1 material sells by “Boards”" in shown.errors["tables"]


def test_the_steps_of_a_table_must_rise_and_the_last_be_open(page: TestClient) -> None:
    shown = keep(
        page, "prices", tables__0__name="T", tables__0__steps__0__up_to="4", tables__0__steps__0__factor="3",
    )  # fmt: skip
    assert set(shown.errors) == {"tables-0-steps-0-up-to"}


def test_how_sticks_and_sheets_are_cut_up_is_the_shops_own(page: TestClient, store: Store) -> None:
    keep(
        page, "cutting", end_trim="5", sheet_trim='3/16"', keep_length="40 cm", keep="200 x 120",
        stages="4", together="always",
    )  # fmt: skip
    shop = shop_of(store)
    assert shop.cutting == CuttingHabits(
        end_trim=mm(5),
        sheet_trim=inches("3/16"),
        keep_length=mm(400),
        stages=4,
        together=Together.ALWAYS,
    )
    assert shop.keep == Size(mm(200), mm(120))
    assert form(page, "cutting")["sheet_trim"] == '3/16"'


def test_what_no_saw_or_sheet_could_mean_is_refused_at_its_field(page: TestClient) -> None:
    shown = keep(page, "cutting", end_trim="900", keep="12", stages="9", keep_length="-3")
    assert set(shown.errors) == {"end-trim", "keep", "stages", "keep-length"}
    shown = keep(page, "cutting", end_trim="900", sheet_trim="501")
    assert set(shown.errors) == {"end-trim", "sheet-trim"}


def test_usual_habits_follow_the_shop_into_another_unit(page: TestClient, store: Store) -> None:
    keep(page, "cutting")
    keep(page, "shop", unit="in", confirm="1")
    assert shop_of(store).cutting.keep_length == inches(12)


def test_promises_are_bounded(page: TestClient, store: Store) -> None:
    keep(page, "promises", valid_days="45", deposit="33.3", rush="30")
    promise = shop_of(store).promise
    assert (promise.valid_days, promise.deposit) == (45, Fraction(333, 1000))
    shown = keep(page, "promises", valid_days="0", ready_days="9999", deposit="101", rush="501")
    assert set(shown.errors) == {"valid-days", "ready-days", "deposit", "rush"}


def test_another_unit_takes_its_own_steps_and_usual_allowances(
    page: TestClient, store: Store
) -> None:
    keep(page, "shop", unit="in")
    shop = shop_of(store)
    assert shop.unit is Unit.IN
    assert shop.step == inches("1/16")
    assert shop.allowances == Allowances.usual(Unit.IN)
    for section in ("allowances", "cutting"):
        assert "Numbers are in inches." in page.get(f"/settings/{section}").text


def test_another_currency_is_asked_about_and_keeps_every_figure(
    page: TestClient, store: Store
) -> None:
    for material in (moulding(), glazing(), backing()):
        price_book.add(store, material, ACT)
    shown = keep(page, "shop", currency="JPY")
    assert "12.50 EUR becomes 13 JPY (rounded), nothing is converted" in shown.text
    assert shop_of(store) == SHOP
    keep(page, "shop", currency="JPY", confirm="1")
    assert shop_of(store).labour.hourly_rate.minor == 36  # 36.00 EUR; the yen has no decimals
    bands = price_book.get(store, "B3").value.charge.bands
    assert [band.price.minor for band in bands] == [4, 6]
    assert price_book.get(store, "W25").value.cost.minor == 15


def test_a_currency_with_as_many_decimals_rounds_nothing(page: TestClient, store: Store) -> None:
    price_book.add(store, moulding(), ACT)
    shown = keep(page, "shop", currency="GBP")
    assert "12.50 EUR becomes 12.50 GBP, nothing is converted" in shown.text


# Half up, 0.50 and 0.75 are both 1 without decimals, and 0.40 is none.
@pytest.mark.parametrize(
    ("steps", "said"),
    [
        (("0.50", "0.75"), "up to 0.50 and up to 0.75 would both end at 1"),
        (("0.40", "1.00"), "up to 0.40 would end at 0"),
        (("0.10", "0.40"), "up to 0.10 and up to 0.40 would both end at 0"),
        (("1.50", "2.00"), "up to 1.50 and up to 2.00 would both end at 2"),
    ],
)
def test_markup_steps_that_would_meet_in_another_currency_are_said_at_it(
    page: TestClient, store: Store, steps: tuple[str, str], said: str
) -> None:
    table = {
        "tables__0__name": "Small parts",
        "tables__0__steps__0__up_to": steps[0],
        "tables__0__steps__0__factor": "4",
        "tables__0__steps__1__up_to": steps[1],
        "tables__0__steps__1__factor": "3",
        "tables__0__steps__2__factor": "2",
    }
    keep(page, "prices", **table)
    before = shop_of(store)
    assert len(before.markup_tables) == 1
    shown = keep(page, "shop", currency="JPY", name="", confirm="1")
    assert set(shown.errors) == {"currency", "name"}
    assert f"JPY has no decimals: of the markup table “Small parts” the steps {said}." in shown.text
    assert shown.values["currency"] == "JPY"
    assert shop_of(store) == before
    keep(page, "shop", currency="CHF", confirm="1")
    assert shop_of(store).currency.code == "CHF"


def test_a_step_that_is_not_above_the_one_before_is_said_where_it_was_typed(
    page: TestClient,
) -> None:
    typed = {
        "tables__0__name": "Small parts",
        "tables__0__steps__1__up_to": "2.00",
        "tables__0__steps__1__factor": "4",
        "tables__0__steps__3__up_to": "2.00",
        "tables__0__steps__3__factor": "3",
        "tables__0__steps__5__factor": "2",
    }
    shown = keep(page, "prices", **typed)
    assert set(shown.errors) == {"tables-0-steps-3-up-to"}


def test_the_second_of_two_tabs_sees_both(page: TestClient, store: Store) -> None:
    first = form(page, "promises")
    page.post("/settings/promises", data={**first, "valid_days": "20", "action": "save"})
    answer = page.post("/settings/promises", data={**first, "valid_days": "25", "action": "save"})
    shown = Page(answer.text)
    assert answer.status_code == 409
    assert "A quote holds for, days 20 25" in shown.text
    assert shop_of(store).promise.valid_days == 20
    page.post("/settings/promises", data={**shown.values, "action": "save"})
    assert shop_of(store).promise.valid_days == 25


@pytest.mark.parametrize("text", ["", "x" * 10_000, "<b>"])
def test_a_currency_that_is_none_is_refused(page: TestClient, text: str) -> None:
    shown = keep(page, "shop", currency=text)
    assert set(shown.errors) == {"currency"}
    assert shown.values["currency"] == text


def test_settings_that_there_are_not_are_not_found(page: TestClient) -> None:
    assert page.get("/settings/colours").status_code == 404


def test_a_copy_of_everything_can_be_saved(page: TestClient, store: Store) -> None:
    answer = page.post("/settings/data/backup")
    name = "bevelbook-2026-11-25-103000.sqlite3"
    assert f'filename="{name}"' in answer.headers["content-disposition"]
    assert answer.content.startswith(b"SQLite format 3\x00")
    copy = store.path.parent / "backups" / name
    with Store.open(copy) as opened:
        assert check_database(opened) == ()
        assert opened.current_shop() == SHOP


def test_only_a_sample_can_be_removed(page: TestClient, store: Store) -> None:
    assert "Delete the sample shop" not in Page(page.get("/settings/data").text).links
    assert page.get("/settings/data/remove-sample").status_code == 404
    assert page.post("/settings/data/remove-sample").status_code == 409
    assert shop_of(store) == SHOP


def test_a_sample_is_removed_in_one_act_and_a_copy_is_kept(page: TestClient, store: Store) -> None:
    shops.save(store, replace(SHOP, sample=True), 1, ACT)
    price_book.add(store, ITS_MOULDING, ACT)
    customers.add(store, Customer(name="Amber Quill"), ACT)
    asked = Page(page.get("/settings/data/remove-sample").text)
    assert "1 material, 1 customer and 0 quotes and orders" in asked.text
    answer = page.post("/settings/data/remove-sample")
    assert answer.url.path == "/welcome"
    assert "a copy of it is stored" in Page(answer.text).text
    assert store.current_shop() is None
    assert len(list((store.path.parent / "backups").iterdir())) == 1
