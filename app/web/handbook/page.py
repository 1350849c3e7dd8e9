"""The page of the handbook: rules by subject, with the shop's own figures beside the usual ones."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.errors import Invalid
from app.handbook import SUBJECTS, Rule, Source
from app.handbook.worked import WORKED, Given
from app.orders import Shop, usual_shop
from app.web.kit.templating import Page
from app.web.settings.page import SettingsSection, section_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ExampleValue:
    """A setting of the shop that a rule goes by.

    value: the shop's own. usual: the handbook's, where the shop has another.
    """

    label: str
    href: str
    value: str = ""
    usual: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleView:
    """A rule of the handbook, ready to print.

    own: its example worked with the shop's figures, where that comes out otherwise.
    """

    number: str
    title: str
    text: str
    formulas: tuple[str, ...]
    settings: tuple[ExampleValue, ...]
    sources: tuple[str, ...]
    example: str
    own: str
    drawing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectView:
    """The rules of one subject."""

    letter: str
    title: str
    rules: tuple[RuleView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HandbookPage(Page):
    """The handbook, whole or searched.

    query: what was looked for. found: how many rules have it.
    """

    title: str = "Handbook"
    query: str
    subjects: tuple[SubjectView, ...]
    found: int


def subjects_of(rules: tuple[Rule, ...], query: str, shop: Shop) -> tuple[SubjectView, ...]:
    """Return the rules that have every word of a query, by subject; subjects without one are left out."""
    words = query.casefold().split()
    fitting = [rule for rule in rules if all(word in _text_of(rule) for word in words)]
    return tuple(
        SubjectView(letter=letter, title=title, rules=tuple(rule_view(rule, shop) for rule in own))
        for letter, title in SUBJECTS.items()
        if (own := [rule for rule in fitting if rule.subject == letter])
    )


def _text_of(rule: Rule) -> str:
    texts = (rule.number, rule.title, rule.text, *rule.formulas, *(s.text for s in rule.sources))
    return " ".join(texts).casefold()


def rule_view(rule: Rule, shop: Shop) -> RuleView:
    """Return a rule with its example and settings, worked with the shop's own figures where these differ."""
    example = rule.example.sentence() if rule.example else ""
    own = _own_example(rule, shop)
    return RuleView(
        number=rule.number,
        title=rule.title,
        text=rule.text,
        formulas=rule.formulas,
        settings=tuple(_settings(rule, shop)),
        sources=tuple(_source(source) for source in rule.sources),
        example=example,
        own=own if own != example else "",
        drawing=rule.drawing,
    )


def _own_example(rule: Rule, shop: Shop) -> str:
    """Return the example worked with the shop's figures; empty where there is none or they make it impossible."""
    if rule.example is None:
        return ""
    try:
        return rule.example.sentence(WORKED[rule.number](Given(shop)))
    except Invalid:
        return ""


def _source(source: Source) -> str:
    standing = source.standing.value
    return f"{standing[:1].upper()}{standing[1:]}{': ' if source.text else ''}{source.text}."


def _settings(rule: Rule, shop: Shop) -> Iterator[ExampleValue]:
    for name in rule.settings:
        slug, _, path = name.partition(".")
        section = section_of(slug)
        if section is None:
            yield ExampleValue(label="Cutters", href=f"/settings/{slug}")
        else:
            yield _setting(section, path, shop)


def _setting(section: SettingsSection, path: str, shop: Shop) -> ExampleValue:
    field = section.blank(path, shop)
    options = dict(field.options)
    usual_of = usual_shop(shop.name, shop.unit, shop.currency.code, shop.tax_rates[0].percent)
    value, usual = (section.typed(each).get(path, "") for each in (shop, usual_of))
    return ExampleValue(
        label=field.label,
        href=f"/settings/{section.slug}",
        value=options.get(value, value),
        usual=options.get(usual, usual) if usual != value else "",
    )
