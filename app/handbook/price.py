"""Rules of prices: what is charged, how it comes about, what is kept (P)."""

from app.handbook.rule import COMMON, OURS, PUBLISHED, Rule, Source, WorkedExample

RULES = (
    Rule(
        number="P1",
        title="How a material is charged",
        text="By length, by area, by the share of a sheet, by a list of sizes, by what is opened for the piece, or each. By share: the "
        "smallest listed part of the sheet that covers the blank.",
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="A blank of {blank} from a sheet of {sheet} is charged as {share} of the sheet.",
            figures={"blank": "400 × 500 mm", "sheet": "1120 × 815 mm", "share": "1/4"},
        ),
    ),
    Rule(
        number="P2",
        title="The length that is charged",
        text="All rails over their long points, the loss at the saw for each rail, and the waste of the moulding; at least its minimum, "
        "rounded up to its step. The rule of thumb that many use stands beside it for comparison: it is larger.",
        formulas=("rule of thumb: 2 × (width + height) + 8 × face",),
        settings=("prices.saw_loss",),
        sources=(Source(PUBLISHED, "a moulding supplier's and a moulding mill's public how-tos"),),
        example=WorkedExample(
            text="Rails of {rails} lose {loss} each: {length}. The rule of thumb for a glass size of {package} and a face of {face} says {thumb}.",
            figures={
                "rails": "441 × 541 mm",
                "loss": "8.5 mm",
                "length": "1998 mm",
                "package": "400 × 500 mm",
                "face": "25 mm",
                "thumb": "2000 mm",
            },
        ),
    ),
    Rule(
        number="P3",
        title="The area that is charged",
        text="The blank, not the window, and the waste; at least the minimum of the material.",
        formulas=("area = width × height × (1 + waste)",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="A blank of {blank} with {waste} waste is charged as {area}.",
            figures={"blank": "400 × 500 mm", "waste": "10 %", "area": "0.22 m²"},
        ),
    ),
    Rule(
        number="P4",
        title="From cost to sell price",
        text="Cost times a markup factor, or by a table of factors over the cost of a unit; or a fixed selling price. A line below cost is marked.",
        settings=("prices.tables",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="A cost of {cost} at a factor of {factor} sells for {price}.",
            figures={"cost": "4.00", "factor": "2.5", "price": "10.00"},
        ),
    ),
    Rule(
        number="P5",
        title="Labour",
        text="Each operation takes so many minutes each time, and more for each metre of frame, layer, window or m². The sum is charged at the "
        "hourly rate.",
        settings=(
            "work.hourly_rate",
            "work.operations",
        ),
        sources=(Source(COMMON, "the times are a start; time yourself"),),
        example=WorkedExample(
            text="{minutes} min at {rate} an hour are {price}.",
            figures={"minutes": "40", "rate": "36.00", "price": "24.00"},
        ),
    ),
    Rule(
        number="P6",
        title="The price of a piece",
        text="Materials, labour, hardware and extras; then discount, rush and rounding to the shop's step; then tax. Every line says how it came about. A fixed price that is raised stays in that step where it is fine enough.",
        settings=("prices.rounding_step",),
        sources=(Source(OURS, "rounding comes before tax"),),
        example=WorkedExample(
            text="Lines of {lines} with a discount of {discount}, rounded to steps of {step}, make {price}.",
            figures={"lines": "129.00", "discount": "10 %", "step": "0.50", "price": "116.00"},
        ),
    ),
    Rule(
        number="P7",
        title="A quote keeps its prices",
        text="Prices and rules of the day are kept with the quote; a later change of the price book does not alter it. It says when it is out of date. "
        "Pricing it again is an act that shows old and new side by side.",
        settings=("promises.valid_days",),
        sources=(Source(COMMON),),
    ),
    Rule(
        number="P9",
        title="Cost and margin are for the shop",
        text="Costs, margins and what an hour earns are seen by the shop and never printed for the customer.",
        sources=(Source(COMMON),),
    ),
    Rule(
        number="P10",
        title="Designs to choose from",
        text="A piece is one artwork, for which several designs may stand side by side on a quote. It is counted once, at the design that is "
        "chosen; before that its price is from the least to the most. What is not chosen is in no total, plan or list of needs, and stays "
        "readable.",
        formulas=(
            "least = least price of each piece, together",
            "most = highest price of each piece, together",
        ),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="One piece of {one}, and one with designs of {first}, {second} and {third}: the quote is from {least} to {most}. With the "
            "first design chosen it comes to {taken}.",
            figures={
                "one": "116.00",
                "first": "104.00",
                "second": "90.00",
                "third": "121.50",
                "least": "206.00",
                "most": "237.50",
                "taken": "220.00",
            },
        ),
    ),
    Rule(
        number="P11",
        title="Several that are alike",
        text="Of several pieces that are alike each takes its materials and its work; what is set up once, as the guide with its stops, is charged once. "
        "Shares of a sheet, bands, minimum lengths and roundings are those of one piece; only by what is opened all are asked for at once. "
        "All lines together over the number, half up, are the price of one: what the number takes off, discount, rush and the rounding to the shop's step are "
        "taken of that, and all cost that many times the price of one, to the last cent. Tax is on all.",
        formulas=(
            "lines = number × (materials + work of each) + work done once",
            "all = number × rounded(lines / number)",
        ),
        settings=(
            "work.operations",
            "prices.number_breaks",
        ),
        sources=(Source(OURS, "so that number times price is the amount that an invoice states"),),
        example=WorkedExample(
            text="{number} alike of {materials} of materials and {each} min each at {rate} an hour, and {once} min once: {lines}, which is {one} for one. "
            "In steps of {step} one is {price} and all are {all}.",
            figures={
                "number": "20",
                "materials": "30.00",
                "each": "20",
                "rate": "36.00",
                "once": "6",
                "lines": "843.60",
                "one": "42.18",
                "step": "0.50",
                "price": "42.00",
                "all": "840.00",
            },
        ),
    ),
    Rule(
        number="P12",
        title="A line without a piece",
        text="Goods of the price book, or anything else that is typed: number × price, rounded once, at a rate of tax of its own; with minutes where "
        "it is work. Discount, rush and the step that pieces are rounded to do not come to it. Of a gift voucher local rules decide when tax is due.",
        formulas=("line = number × price of one",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="{number} hooks at a cost of {cost} and a factor of {factor} are {goods}; a brass plate for {work} beside them makes {together}, of which "
            "{rate} tax is {tax}.",
            figures={
                "number": "12",
                "cost": "0.33",
                "factor": "2.5",
                "goods": "9.90",
                "work": "24.99",
                "together": "34.89",
                "rate": "20 %",
                "tax": "5.82",
            },
        ),
    ),
    Rule(
        number="P13",
        title="A target price",
        text="Where a customer names what they want to pay, the quote is brought to it by a discount on the record, with tax and to the cent; the lines "
        "keep their prices. The page says what is left without tax, over the cost and for an hour of work, and where that is below cost. Cheaper "
        "choices within 10 % of the target stand beside it.",
        formulas=("discount = price − target", "margin = target without tax − material cost"),
        sources=(Source(OURS, "on M6 and P9"),),
        example=WorkedExample(
            text="A quote of {price} is to cost {asked}: the discount is {off}, {share}. Without tax of {tax} {net} is left, over a material cost of {cost} "
            "a margin of {margin}, and for {minutes} min of work {hourly} an hour.",
            figures={
                "price": "148.00",
                "asked": "130.00",
                "off": "18.00",
                "share": "12.162 %",
                "tax": "20 %",
                "net": "108.33",
                "cost": "40.00",
                "margin": "68.33",
                "minutes": "90",
                "hourly": "45.55",
            },
        ),
    ),
    Rule(
        number="P14",
        title="Price steps",
        text="A size band, a share of a sheet, a minimum and a charge step make the price of a line stand still and then jump. Beneath such a line "
        "stands the nearest smaller and the nearest larger size of the glass size at which it does, in whole cutting steps, and the difference of that "
        "line. The size changes by the borders, the windows stay. What is charged by what a plan opens has no such size.",
        sources=(Source(OURS, "on the charge rules of P1 to P3"),),
        example=WorkedExample(
            text="A backing of {blank} is {united} wide and high together, in the band up to {limit} for {price}. {by} narrower or lower it is in the band up to "
            "{lower}: {difference}.",
            figures={
                "blank": "500 × 312 mm",
                "united": "812 mm",
                "limit": "1200 mm",
                "price": "6.00",
                "by": "12 mm",
                "lower": "800 mm",
                "difference": "−2.00",
            },
        ),
    ),
)
