"""Rules of money: rounding, tax, ledger, numbers (M)."""

from app.handbook.rule import COMMON, OURS, PUBLISHED, Rule, Source, WorkedExample

RULES = (
    Rule(
        number="M1",
        title="Money is exact",
        text="Amounts are whole cents, or whatever the smallest coin of the currency is. They are rounded half up, at each line or once "
        "for a document, as the shop's tax rule asks.",
        settings=("tax.rounding",),
        sources=(Source(PUBLISHED, "ISO 4217; HMRC VATREC12030; EN 16931"),),
        example=WorkedExample(
            text="{tax} of {amount} is {exact}, rounded to {rounded}.",
            figures={"tax": "20 %", "amount": "0.12", "exact": "0.024", "rounded": "0.02"},
        ),
    ),
    Rule(
        number="M2",
        title="Prices with or without tax",
        text="A shop states its prices with tax or without, by a setting. There may be several rates, and customers who pay none.",
        settings=("tax.stated", "tax.rates"),
        sources=(Source(COMMON, "check local law"),),
        example=WorkedExample(
            text="In {gross} with {tax} tax there are {part} of tax.",
            figures={"gross": "120.00", "tax": "20 %", "part": "20.00"},
        ),
    ),
    Rule(
        number="M3",
        title="The ledger is only added to",
        text="Deposits, payments and refunds are entries. A mistake is corrected by a contrary entry, never erased.",
        sources=(Source(COMMON),),
    ),
    Rule(
        number="M4",
        title="Numbers without gaps",
        text="Numbers of quotes, orders and invoices run without a gap and are never used twice.",
        sources=(Source(COMMON, "many countries ask for it on invoices"),),
    ),
    Rule(
        number="M5",
        title="Every amount says whether tax is in it",
        text="Beside every amount that is typed stands whether it is with or without tax, and what it is the other way. Costs are without tax; what you "
        "sell, your hourly rate and goodwill follow the way in which your shop states its prices; what was paid is with tax.",
        settings=("tax.stated",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="{net} without tax is {gross} with {tax} tax.",
            figures={"net": "36.00", "gross": "43.20", "tax": "20 %"},
        ),
    ),
    Rule(
        number="M6",
        title="Tax of a document",
        text="For each rate the tax is the taxable amount times the rate, rounded once. What is taken off lowers the taxable amounts in proportion, so that "
        "a lower price never has a higher tax.",
        formulas=("tax = taxable amount × rate",),
        sources=(Source(PUBLISHED, "EN 16931, rule BR-CO-17"),),
        example=WorkedExample(
            text="A taxable amount of {net} at {tax} bears {part} of tax.",
            figures={"net": "99.97", "tax": "20 %", "part": "19.99"},
        ),
    ),
    Rule(
        number="M7",
        title="Printed is known",
        text="A ticket carries its version. What is printed is noted with all that stands on it, once for each version; the same again is a copy of it. "
        "After a change of the piece or of the cutter, order and bench say what the paper in the shop says wrongly, and the next print names the one that it "
        "replaces. Once all parts are cut, the cutter counts no more.",
        sources=(Source(OURS),),
        example=WorkedExample(
            text="Printed {first}; then the borders grow by {wider} on each side. The paper is old: “{said}”. Printed again {again} it is version "
            "{version}, which replaces the one of {first}.",
            figures={
                "first": "07:02",
                "wider": "10 mm",
                "said": "rails: 441 / 541 are now 461 / 561",
                "version": "2",
                "again": "09:10",
            },
        ),
    ),
)
