"""Currencies and their minor units.

Owns the table of ISO 4217. It has no names and no symbols for people; pages take those from the
locale data.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from app.errors import Invalid, quoted


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency. code: three letters. digits: decimals of its minor unit, 2 for cents."""

    code: str
    digits: int

    @property
    def minor_per_unit(self) -> int:
        """How many minor units make one unit: 100 for cents."""
        return int(10**self.digits)


_CODES_BY_DIGITS = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    2: (
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD "
        "CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP "
        "GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK "
        "LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO "
        "NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS "
        "SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST "
        "XAD XCD XCG YER ZAR ZMW ZWG"
    ),
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}

CURRENCIES: Mapping[str, Currency] = MappingProxyType(
    {
        code: Currency(code, digits)
        for digits, codes in _CODES_BY_DIGITS.items()
        for code in codes.split()
    }
)
"""The active codes that have a minor unit, by code.

Source: ISO 4217 list one as published on 1 January 2026 (currencies and funds; metals, test and
settlement codes have no minor unit and are left out).
"""


def currency(code: str, *, path: str = "currency") -> Currency:
    """Return the currency of a code in either case. Raises: Invalid for a code that is not in use."""
    known = CURRENCIES.get(code.strip().upper())
    if known is None:
        raise Invalid.at(
            path,
            f"{quoted(code)} is not a currency code in use; type three letters such as EUR, GBP "
            "or USD.",
        )
    return known
