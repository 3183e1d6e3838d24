/**
 * The currency codes of ISO 4217 (active codes, list from memory), as builds write prices.
 *
 *     currencies.has("USD")
 *
 * Must not know: rates of exchange. An amount in one currency never turns into another here.
 */

export const currencies: ReadonlySet<string> = new Set(
  `AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN
   BZD CAD CDF CHF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS
   GIP GMD GNF GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW
   KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD
   NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD
   SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYU UZS VED
   VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG`
    .trim()
    .split(/\s+/),
);

/** Currencies without a smaller coin in use are written without decimals, a few with three. */
export function currencyDecimals(code: string): number {
  if (withoutDecimals.has(code)) return 0;
  return withThreeDecimals.has(code) ? 3 : 2;
}

const withoutDecimals = new Set(
  "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF".split(" "),
);
const withThreeDecimals = new Set("BHD IQD JOD KWD LYD OMR TND".split(" "));
