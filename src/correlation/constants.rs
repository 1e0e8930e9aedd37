//! Physical constants, each in one place.

/// Stefan-Boltzmann constant \[W/(m2 K4)\]; CODATA 2018, MEMORY (it follows exactly from the defined SI constants).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Standard acceleration of gravity \[m/s2\]; defined value, ISO 80000-3, MEMORY.
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Molar gas constant \[J/(mol K)\]; CODATA 2018, exact and here rounded; MEMORY.
pub const GAS_CONSTANT: f64 = 8.314_462_618;

/// Molar mass of dry air \[kg/mol\]; rounded from the 0.02896546 READ in an open property library.
pub const MOLAR_MASS_DRY_AIR: f64 = 0.028_965_5;

/// Molar mass of water \[kg/mol\]; IAPWS, MEMORY.
pub const MOLAR_MASS_WATER: f64 = 0.018_015_268;

/// Standard atmospheric pressure \[Pa\]; defined value.
pub const STANDARD_PRESSURE: f64 = 101_325.0;

/// The Celsius zero \[K\]; defined value. Property fits published in degrees Celsius need it.
pub(super) const CELSIUS_ZERO: f64 = 273.15;
