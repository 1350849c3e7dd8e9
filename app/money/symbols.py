"""Symbols that people put beside an amount, and the currencies that each may mean."""

from app.money.currency import Currency

_DOLLARS = (
    "ARS AUD BBD BMD BND BSD BZD CAD CLP COP CUP DOP FJD GYD HKD JMD KYD LRD MXN NAD NZD SBD SGD "
    "SRD TTD TWD USD UYU XCD"
)
_CODES = {
    "$": _DOLLARS,
    "us$": "USD",
    "a$": "AUD",
    "au$": "AUD",
    "c$": "CAD",
    "ca$": "CAD",
    "nz$": "NZD",
    "s$": "SGD",
    "hk$": "HKD",
    "nt$": "TWD",
    "r$": "BRL",
    "€": "EUR",
    "£": "EGP FKP GBP GIP LBP SDG SHP SSP SYP",
    "¥": "CNY JPY",
    "₹": "INR",
    "rs": "INR LKR MUR NPR PKR SCR",
    "₩": "KPW KRW",
    "₺": "TRY",
    "₪": "ILS",
    "₽": "RUB",
    "₴": "UAH",
    "₫": "VND",
    "₱": "PHP",
    "₦": "NGN",
    "฿": "THB",
    "kr": "DKK ISK NOK SEK",
    "zł": "PLN",
    "kč": "CZK",
    "ft": "HUF",
    "fr": "CHF",
    "lei": "RON",
    "r": "ZAR",
}
"""Lower case. Source: common practice."""


def stands_for(mark: str, currency: Currency) -> bool:
    """Tell whether a mark, its code or a symbol in lower case, may stand beside a currency's amount."""
    if mark == currency.code.lower():
        return True
    return currency.code in _CODES.get(mark.removesuffix("."), "").split()
