//! The table of units. A new unit is one line here.

use super::QuantityKind as K;
use super::{Dimension, Nature, QuantityKind, Unit};

const OPEN_PRESSURE: QuantityKind =
    QuantityKind { dimension: Dimension::PRESSURE, nature: Nature::Open };
const OPEN_TEMPERATURE: QuantityKind =
    QuantityKind { dimension: Dimension::TEMPERATURE, nature: Nature::Open };

/// Pa in the conventional millimetre of mercury.
const MMHG: f64 = 133.322_387_415;
/// Pa in the standard atmosphere.
const ATM: f64 = 101_325.0;
/// m in the inch.
const INCH: f64 = 0.0254;
/// m3 in the cubic inch.
const CUBIC_INCH: f64 = 1.638_706_4e-5;
/// m3 in the cubic foot.
const CUBIC_FOOT: f64 = 0.028_316_846_592;
/// kg in the avoirdupois pound.
const POUND: f64 = 0.453_592_37;
/// Pa in the pound-force per square inch.
const PSI: f64 = POUND * 9.806_65 / (INCH * INCH);

const SI: &str = "SI Brochure, 9th edition (2019)";
const SP_811: &str = "NIST SP 811 (2008), App. B.8";
const MMHG_BASIS: &str = "conventional mercury, 13595.1 kg/m3, with standard gravity 9.80665 m/s2: \
     133.322387415 Pa in 1 mm exactly";
const TORR_BASIS: &str = "standard atmosphere / 760 exactly: NIST SP 811 (2008), App. B.8";
const BAR_BASIS: &str = "100000 Pa exactly: NIST SP 811 (2008), App. B.8";
const PSI_BASIS: &str = "exact from the pound 0.45359237 kg, the inch 25.4 mm and standard gravity \
     9.80665 m/s2: NIST SP 811 (2008), App. B.8";
const FAHRENHEIT_BASIS: &str = "t/degF = 9/5 t/degC + 32 exactly: NIST SP 811 (2008), App. B.8";
const INCH_BASIS: &str = "exact from the inch 25.4 mm: NIST SP 811 (2008), App. B.8";
const US_VOLUME_BASIS: &str = "US gallon, 231 in3 exactly: NIST SP 811 (2008), App. B.8";
const POUND_BASIS: &str = "avoirdupois pound, 0.45359237 kg exactly: NIST SP 811 (2008), App. B.8";

const fn unit(
    symbol: &'static str,
    aliases: &'static [&'static str],
    kind: QuantityKind,
    factor: f64,
    basis: &'static str,
) -> Unit {
    Unit { symbol, aliases, kind, factor, offset: 0.0, basis }
}

/// Every unit that is understood, kind by kind. Litres, inches and pounds are the international
/// ones, gallon and quart the US liquid ones.
#[rustfmt::skip]
pub const UNITS: &[Unit] = &[
    // Pressure, absolute or a difference: the place decides.
    unit("micron", &["microns", "umHg", "µmHg", "μmHg"], OPEN_PRESSURE, MMHG / 1000.0, MMHG_BASIS),
    unit("mTorr", &["mtorr", "millitorr"], OPEN_PRESSURE, ATM / 760_000.0, TORR_BASIS),
    unit("Torr", &["torr"], OPEN_PRESSURE, ATM / 760.0, TORR_BASIS),
    unit("mmHg", &[], OPEN_PRESSURE, MMHG, MMHG_BASIS),
    unit("cmHg", &[], OPEN_PRESSURE, 10.0 * MMHG, MMHG_BASIS),
    unit("inHg", &["inchHg"], OPEN_PRESSURE, 25.4 * MMHG, MMHG_BASIS),
    unit("inHg_32F", &[], OPEN_PRESSURE, 3386.38, SP_811),
    unit("inH2O", &["inWC"], OPEN_PRESSURE, 249.08891, "conventional water, 1000 kg/m3, with standard gravity 9.80665 m/s2: 25.4 mm of it exactly"),
    unit("inH2O_39F", &[], OPEN_PRESSURE, 249.082, SP_811),
    unit("Pa", &["pascal", "pascals"], OPEN_PRESSURE, 1.0, SI),
    unit("hPa", &[], OPEN_PRESSURE, 100.0, SI),
    unit("kPa", &[], OPEN_PRESSURE, 1000.0, SI),
    unit("MPa", &[], OPEN_PRESSURE, 1.0e6, SI),
    unit("mbar", &["millibar", "millibars"], OPEN_PRESSURE, 100.0, BAR_BASIS),
    unit("bar", &["bars"], OPEN_PRESSURE, 1.0e5, BAR_BASIS),
    unit("psi", &[], OPEN_PRESSURE, PSI, PSI_BASIS),
    unit("atm", &[], OPEN_PRESSURE, ATM, "standard atmosphere, 101325 Pa exactly: NIST SP 811 (2008), App. B.8"),
    unit("kgf_cm2", &["ksc"], OPEN_PRESSURE, 98_066.5, "technical atmosphere, exact from standard gravity 9.80665 m/s2"),
    // Pressure that says itself that it is absolute.
    unit("psia", &[], K::PRESSURE, PSI, PSI_BASIS),
    unit("bara", &[], K::PRESSURE, 1.0e5, BAR_BASIS),
    // Gauge pressure. A reading of vacuum below the barometer counts downward.
    unit("psig", &[], K::GAUGE_PRESSURE, PSI, PSI_BASIS),
    unit("barg", &[], K::GAUGE_PRESSURE, 1.0e5, BAR_BASIS),
    unit("mbarg", &[], K::GAUGE_PRESSURE, 100.0, BAR_BASIS),
    unit("kPag", &[], K::GAUGE_PRESSURE, 1000.0, SI),
    unit("MPag", &[], K::GAUGE_PRESSURE, 1.0e6, SI),
    unit("inHg_vac", &[], K::GAUGE_PRESSURE, -25.4 * MMHG, MMHG_BASIS),
    unit("cmHg_vac", &[], K::GAUGE_PRESSURE, -10.0 * MMHG, MMHG_BASIS),
    // Temperature.
    Unit { symbol: "degC", aliases: &["°C", "℃"], kind: K::TEMPERATURE, factor: 1.0, offset: 273.15, basis: SI },
    Unit { symbol: "degF", aliases: &["°F", "℉"], kind: K::TEMPERATURE, factor: 5.0 / 9.0, offset: 459.67 * 5.0 / 9.0, basis: FAHRENHEIT_BASIS },
    unit("K", &["kelvin", "kelvins"], OPEN_TEMPERATURE, 1.0, SI),
    unit("degC_diff", &[], K::TEMPERATURE_DIFFERENCE, 1.0, SI),
    unit("degF_diff", &[], K::TEMPERATURE_DIFFERENCE, 5.0 / 9.0, FAHRENHEIT_BASIS),
    // Time.
    unit("ms", &[], K::TIME, 1.0e-3, SI),
    unit("s", &["sec", "secs", "second", "seconds"], K::TIME, 1.0, SI),
    unit("min", &["mins", "minute", "minutes"], K::TIME, 60.0, SI),
    unit("h", &["hr", "hrs", "hour", "hours"], K::TIME, 3600.0, SI),
    unit("d", &["day", "days"], K::TIME, 86_400.0, SI),
    unit("week", &["weeks"], K::TIME, 604_800.0, "exact: seven days"),
    unit("year", &["yr", "years"], K::TIME, 31_557_600.0, "Julian year, 365.25 days exactly: IAU"),
    // Length.
    unit("um", &["µm", "μm"], K::LENGTH, 1.0e-6, SI),
    unit("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], K::LENGTH, 1.0e-3, SI),
    unit("cm", &["centimetre", "centimetres", "centimeter", "centimeters"], K::LENGTH, 0.01, SI),
    unit("m", &["metre", "metres", "meter", "meters"], K::LENGTH, 1.0, SI),
    unit("in", &["inch", "inches"], K::LENGTH, INCH, INCH_BASIS),
    unit("ft", &["foot", "feet"], K::LENGTH, 0.3048, INCH_BASIS),
    // Area.
    unit("mm2", &[], K::AREA, 1.0e-6, SI),
    unit("cm2", &[], K::AREA, 1.0e-4, SI),
    unit("m2", &[], K::AREA, 1.0, SI),
    unit("in2", &[], K::AREA, 6.4516e-4, INCH_BASIS),
    unit("ft2", &[], K::AREA, 0.092_903_04, INCH_BASIS),
    // Volume.
    unit("mm3", &[], K::VOLUME, 1.0e-9, SI),
    unit("cm3", &["cc"], K::VOLUME, 1.0e-6, SI),
    unit("mL", &["ml", "millilitre", "millilitres", "milliliter", "milliliters"], K::VOLUME, 1.0e-6, SI),
    unit("L", &["l", "litre", "litres", "liter", "liters"], K::VOLUME, 1.0e-3, SI),
    unit("m3", &[], K::VOLUME, 1.0, SI),
    unit("in3", &["cuin"], K::VOLUME, CUBIC_INCH, INCH_BASIS),
    unit("ft3", &["cuft"], K::VOLUME, CUBIC_FOOT, INCH_BASIS),
    unit("gal", &["gallon", "gallons"], K::VOLUME, 3.785_411_784e-3, US_VOLUME_BASIS),
    unit("qt", &["quart", "quarts"], K::VOLUME, 9.463_529_46e-4, US_VOLUME_BASIS),
    // Flow: volume per time.
    unit("cfm", &[], K::FLOW, CUBIC_FOOT / 60.0, INCH_BASIS),
    unit("lpm", &[], K::FLOW, 1.0e-3 / 60.0, SI),
    // Throughput: pressure times volume per time.
    unit("micron_cfm", &[], K::THROUGHPUT, MMHG / 1000.0 * CUBIC_FOOT / 60.0, MMHG_BASIS),
    unit("sccm", &[], K::THROUGHPUT, ATM * 1.0e-6 / 60.0, "computed: 1 cm3/min at 101325 Pa; the gas is counted at 273.15 K"),
    // Mass.
    unit("mg", &[], K::MASS, 1.0e-6, SI),
    unit("g", &["gram", "grams"], K::MASS, 1.0e-3, SI),
    unit("kg", &["kilogram", "kilograms"], K::MASS, 1.0, SI),
    unit("oz", &["ounce", "ounces"], K::MASS, 0.028_349_523_125, POUND_BASIS),
    unit("lb", &["lbs", "pound", "pounds"], K::MASS, POUND, POUND_BASIS),
    // Energy.
    unit("J", &["joule", "joules"], K::ENERGY, 1.0, SI),
    unit("kJ", &[], K::ENERGY, 1000.0, SI),
    unit("MJ", &[], K::ENERGY, 1.0e6, SI),
    unit("Wh", &[], K::ENERGY, 3600.0, SI),
    unit("kWh", &[], K::ENERGY, 3.6e6, SI),
    unit("BTU", &["Btu"], K::ENERGY, 1_055.055_852_62, "International Table Btu, 1055.05585262 J exactly: NIST SP 811 (2008), App. B.8"),
    // Power.
    unit("W", &["watt", "watts"], K::POWER, 1.0, SI),
    unit("kW", &[], K::POWER, 1000.0, SI),
    // Ratio, and a bare number.
    unit("1", &[], K::NUMBER, 1.0, "exact"),
    unit("%", &["percent"], K::NUMBER, 0.01, SI),
    // Amount of substance.
    unit("mol", &["mole", "moles"], K::AMOUNT, 1.0, SI),
    unit("mmol", &[], K::AMOUNT, 1.0e-3, SI),
];
