//! The currencies of ISO 4217 that money is paid in, with the decimals of
//! their smallest coin.
//!
//! Typed from memory of the list and compared, code by code, with an open
//! package that carries it (`validation/generators/currencies.py`). Left out:
//! metals, bond units, special drawing rights and test codes, which no rope is
//! paid in, and currencies that were withdrawn.

/// Every code with its decimals, where these are not two.
const OTHER: &[(&str, u32)] = &[
    ("BHD", 3),
    ("BIF", 0),
    ("CLF", 4),
    ("CLP", 0),
    ("DJF", 0),
    ("GNF", 0),
    ("IQD", 3),
    ("ISK", 0),
    ("JOD", 3),
    ("JPY", 0),
    ("KMF", 0),
    ("KRW", 0),
    ("KWD", 3),
    ("LYD", 3),
    ("OMR", 3),
    ("PYG", 0),
    ("RWF", 0),
    ("TND", 3),
    ("UGX", 0),
    ("UYI", 0),
    ("UYW", 4),
    ("VND", 0),
    ("VUV", 0),
    ("XAF", 0),
    ("XOF", 0),
    ("XPF", 0),
];

/// Every code with two decimals.
const TWO: &str = "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF \
    CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL \
    HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR \
    MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP \
    SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER \
    ZAR ZMW ZWG";

/// Decimals of the smallest coin; `None` for a code that is none of the list.
pub(crate) fn decimals(code: &str) -> Option<u32> {
    let other = OTHER.iter().find(|(known, _)| *known == code).map(|(_, decimals)| *decimals);
    other.or_else(|| TWO.split_ascii_whitespace().any(|known| known == code).then_some(2))
}

/// Every code, in order.
#[must_use]
pub fn currency_codes() -> Vec<&'static str> {
    let mut codes: Vec<&str> = TWO.split_ascii_whitespace().chain(OTHER.iter().map(|(code, _)| *code)).collect();
    codes.sort_unstable();
    codes
}
