"""Currencies: their codes and how many decimals their amounts have.

In: nothing. Out: `DECIMALS`, alphabetic code -> digits of the minor unit.

Source: ISO 4217:2015, Codes for the representation of currencies, with its list of current codes
(from memory; codes of funds, precious metals and tests are left out).
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

_TWO = """
AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN BZD CAD
CDF CHF CNY COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD
HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD
MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON
RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD
TZS UAH USD UYU UZS VED VES WST XCD YER ZAR ZMW ZWG
"""
_NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE = "BHD IQD JOD KWD LYD OMR TND"

DECIMALS: Mapping[str, int] = MappingProxyType(
    {
        **dict.fromkeys(_TWO.split(), 2),
        **dict.fromkeys(_NONE.split(), 0),
        **dict.fromkeys(_THREE.split(), 3),
    }
)
