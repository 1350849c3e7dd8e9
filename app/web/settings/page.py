"""The pages of settings: one form for each section, with a list of all sections beside it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from app.counting import counted
from app.forms.kinds import FormContext
from app.forms.table import Form, Typed, values_in
from app.handbook import RULES
from app.lengths import Unit
from app.money import Money, show_money
from app.orders import Shop
from app.orders.change_of_currency import money_in
from app.services.price_book import Uses
from app.services.sample import Contents
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page
from app.web.settings import cutting_form as cutting_habits
from app.web.settings import labour_form as labour
from app.web.settings import markups_form as markups
from app.web.settings import shop_form as shop_forms
from app.web.settings import tax_form as tax
from app.web.settings import usual_form as usual
from app.web.settings import weights_form as weights
from app.web.settings.open_days_form import OfShopToday, open_days_values


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsPage(Page):
    """One section of the settings.

    asks: what a change of unit or currency means, which the user confirms; empty where nothing is
    asked. live: the address that restates its amounts while one types; empty where it has none. logo: the shop's, as an
    address; logo_fault: what is wrong with one that was chosen.
    """

    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    slug: str
    about: str
    live: str
    version: str
    unit: str
    fields: FormView[Any]
    asks: tuple[str, ...]
    confirm: FieldView
    logo: str = ""
    logo_fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveSamplePage(Page):
    """The page that asks before the sample is removed."""

    title: str = "Delete the sample shop"
    section: str = "Settings"
    contents: Contents


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsSection:
    """A section of the settings.

    read: returns the shop with the values of a form. values: returns the objects whose attributes the
    form begins with. template: its own one, where its fields are not just printed in their order. of:
    returns what the form follows from.
    """

    slug: str
    title: str
    about: str
    form: Form[Any]
    read: Callable[[Typed, Shop, Uses, date], Shop]
    values: Callable[[Shop], tuple[object, ...]]
    template: str = "layout"
    of: Callable[[Shop, date], FormContext] = lambda shop, _today: shop

    def typed(self, shop: Shop) -> dict[str, str]:
        """Return the text that each field begins with, which no day of today changes."""
        return self.form.typed(values_in(*self.values(shop)), shop)

    def fields(self, make: Fields, shop: Shop, today: date) -> FormView[Any]:
        """Return the views of the section's fields."""
        return FormView(self.form, self.of(shop, today), make)

    def blank(self, path: str, shop: Shop) -> FieldView:
        """Return the view of a field, or of all rows of a name, as it is while nothing is typed, so on any day."""
        views = self.fields(Fields({}), shop, date.min)
        return views.repeats[path].all if path in views.repeats else views[path]


SECTIONS: tuple[SettingsSection, ...] = (
    SettingsSection(
        slug="shop",
        title="Shop",
        about="What heads your quotes, and what you measure and charge in.",
        form=shop_forms.IDENTITY,
        read=lambda typed, shop, _uses, _today: shop_forms.read_identity(typed, shop),
        values=lambda shop: (shop,),
        template="shop",
    ),
    SettingsSection(
        slug="allowances",
        title="Allowances",
        about="What a new piece starts with; on each quote you can type something else.",
        form=shop_forms.ALLOWANCES,
        read=lambda typed, shop, _uses, _today: shop_forms.read_allowances(typed, shop),
        values=lambda shop: (shop.allowances, shop),
        template="allowances",
    ),
    SettingsSection(
        slug="usual",
        title="Usual choices",
        about="What you take for most pieces, filled in on every new quote.",
        form=usual.USUAL,
        read=lambda typed, shop, uses, _today: usual.read_usual(typed, shop, uses.book),
        values=lambda shop: (shop.usual_choices,),
        template="usual",
    ),
    SettingsSection(
        slug="work",
        title="Work",
        about="What an hour costs and how long things take you. Time yourself and correct the table.",
        form=labour.LABOUR,
        read=lambda typed, shop, _uses, _today: labour.read_labour(typed, shop),
        values=lambda shop: ({"labour_tax": shop.labour.tax}, shop.labour),
        template="work",
    ),
    SettingsSection(
        slug="tax",
        title="Tax",
        about="Rates, whether they are in your prices, and where they are rounded. Ask your adviser.",
        form=tax.TAX,
        read=lambda typed, shop, uses, _today: tax.read_tax(typed, shop, uses.rates),
        values=lambda shop: (
            {"stated": tax.stated_by(shop), "rates": shop.tax_rates},
            shop.tax_policy,
        ),
        template="tax",
    ),
    SettingsSection(
        slug="prices",
        title="Prices",
        about="How sell prices come about from costs, and what the saw takes.",
        form=markups.MARKUPS,
        read=lambda typed, shop, uses, _today: markups.read_markups(typed, shop, uses.tables),
        values=lambda shop: ({"kerf": None, "tables": shop.markup_tables}, shop),
        template="prices",
    ),
    SettingsSection(
        slug="cutting",
        title="Cutting plans",
        about="How sticks and sheets are cut up, and what is left over that you keep.",
        form=cutting_habits.CUTTING,
        read=lambda typed, shop, _uses, _today: cutting_habits.read_cutting(typed, shop),
        values=lambda shop: (shop.cutting, shop),
        template="cutting",
    ),
    SettingsSection(
        slug="weight",
        title="Weight and hanging",
        about="What artworks are taken to weigh, and what is asked of the parts that a piece hangs by. "
        "Wall, fixings and local rules are always judged on the spot.",
        form=weights.WEIGHTS,
        read=lambda typed, shop, _uses, _today: weights.read_weights(typed, shop),
        values=lambda shop: weights.values_of(shop.weights),
        template="weight",
    ),
    SettingsSection(
        slug="promises",
        title="Quote validity, lead time, deposit",
        about="What a new quote says unless you change it, and on which days you are open.",
        form=shop_forms.PROMISES,
        read=lambda typed, shop, _uses, today: shop_forms.read_promises(typed, shop, today),
        values=lambda shop: (shop.promise, open_days_values(shop)),
        of=OfShopToday,
    ),
)


WITH_AMOUNTS = frozenset({"work"})
"""The sections with amounts that are something else with tax than without."""


def rules_of(slug: str) -> dict[str, str]:
    """Return the number of the first rule that goes by each field of a section."""
    settings = ((name, rule.number) for rule in reversed(RULES) for name in rule.settings)
    named = ((name.partition("."), number) for name, number in settings)
    return {path: number for (of, _, path), number in named if of == slug}


def section_of(slug: str) -> SettingsSection | None:
    """Return the section at an address."""
    return next((section for section in SECTIONS if section.slug == slug), None)


def nav_sections(slug: str) -> tuple[Chip, ...]:
    """Link to all sections, to the cutters, to phones in the workshop, and to the data."""
    named = (
        *((section.slug, section.title) for section in SECTIONS),
        ("cutters", "Cutters"),
        ("workshop", "Workshop"),
        ("data", "Data"),
    )
    return tuple(
        Chip(label=title, href=f"/settings/{each}", current=each == slug) for each, title in named
    )


def questions(old: Shop, new: Shop, contents: Contents) -> tuple[str, ...]:
    """Say what a change of unit or currency means for quotes, orders and materials that exist already."""
    asks = []
    kept = counted(contents.orders, "quote or order stays", "quotes and orders stay")
    book = counted(contents.materials, "material keeps its figure", "materials keep their figures")
    if new.unit is not old.unit and contents.orders:
        word = "millimetres" if new.unit is Unit.MM else "inches"
        asks.append(
            f"From now on numbers are in {word}, and new pieces are cut on that scale. "
            f"{kept} as agreed."
        )
    if new.currency != old.currency and (contents.orders or contents.materials):
        before, after = old.currency.code, new.currency.code
        figure = Money(25 * old.currency.minor_per_unit // 2, old.currency)
        moved = money_in(figure, new.currency)
        rounded = "," if money_in(moved, old.currency) == figure else " (rounded),"
        asks.append(
            f"The settings and {book}: {show_money(figure)} {before} becomes {show_money(moved)} "
            f"{after}{rounded} nothing is converted. {kept} in {before}."
        )
    return tuple(asks)
