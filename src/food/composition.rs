//! Conductivity, heat capacity and density of a food from what it consists of.

use crate::error::{Error, Within};
use crate::material::Composition;
use crate::units::bounds::in_range;
use crate::units::{
    MassDensity, Ratio, Si, SpecificHeatCapacity, Temperature, ThermalConductivity, ThermalDiffusivity, celsius,
};

/// a + b T + c T², T in degrees Celsius.
type Polynomial = [f64; 3];

/// Components in the order of [`Composition`]: water, protein, fat, carbohydrate, fibre, ash.
///
/// Two slips circulate and are avoided here: 4128.9 for the constant of water, which is 1.0 to 1.3 % below real water,
/// and a heat capacity of fat rising by 0.147 J/(kg K) per K.
const HEAT_CAPACITY: [Polynomial; 6] = [
    [4176.2, -9.0864e-2, 5.4731e-3],
    [2008.2, 1.2089, -1.3129e-3],
    [1984.2, 1.4733, -4.8008e-3],
    [1548.8, 1.9625, -5.9399e-3],
    [1845.9, 1.8306, -4.6509e-3],
    [1092.6, 1.8896, -3.6817e-3],
];
/// The slope of fat is -2.7604e-4; copies with -2.7604e-3 turn negative near 65 °C.
const CONDUCTIVITY: [Polynomial; 6] = [
    [0.57109, 1.7625e-3, -6.7036e-6],
    [0.17881, 1.1958e-3, -2.7178e-6],
    [0.18071, -2.7604e-4, -1.7749e-7],
    [0.20141, 1.3874e-3, -4.3312e-6],
    [0.18331, 1.2497e-3, -3.1683e-6],
    [0.32962, 1.4011e-3, -2.9069e-6],
];
const DENSITY: [Polynomial; 6] = [
    [997.18, 3.1439e-3, -3.7574e-3],
    [1329.9, -0.5184, 0.0],
    [925.59, -0.41757, 0.0],
    [1599.1, -0.31046, 0.0],
    [1311.5, -0.36589, 0.0],
    [2423.8, -0.28063, 0.0],
];

/// Thermal properties of a food without air in it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct FoodProperties {
    /// Conductivity k, of the components side by side, by volume.
    pub conductivity: ThermalConductivity,
    /// Density, from the sum of volumes.
    pub density: MassDensity,
    /// Specific heat capacity, by mass.
    pub heat_capacity: SpecificHeatCapacity,
}

impl FoodProperties {
    /// By the component equations of Choi and Okos at a temperature of 0 to 150 °C, unfrozen, under enough pressure not
    /// to boil. Mass fractions are scaled to add up to one.
    ///
    /// Choi and Okos (1986), Effects of temperature and composition on the thermal properties of foods; coefficients
    /// READ in the appendix of a food-properties text (2003) and in an open implementation (2014), reconciled where the
    /// two differ. Against measured foods: heat capacity within some 5 %, diffusivity within 20 % (READ, table of 2020).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a temperature outside 0 to 150 °C.
    pub fn of(composition: &Composition, temperature: Temperature) -> Result<Self, Error> {
        let kelvin = in_range("temperature", temperature, celsius(0.0), celsius(150.0)).within("food properties")?;
        let t = kelvin - 273.15;
        let value = |[a, b, c]: Polynomial| a + t * (b + t * c);
        let parts = [
            composition.water(),
            composition.protein(),
            composition.fat(),
            composition.carbohydrate(),
            composition.fibre(),
            composition.ash(),
        ]
        .map(Si::si);
        // A composition adds up to 0.97 at least (checked when it was built).
        let whole: f64 = parts.iter().sum();
        let (mut heat, mut volume, mut conducted) = (0.0, 0.0, 0.0);
        for i in 0..parts.len() {
            let mass = parts[i] / whole;
            let specific_volume = mass / value(DENSITY[i]);
            heat += mass * value(HEAT_CAPACITY[i]);
            volume += specific_volume;
            conducted += specific_volume * value(CONDUCTIVITY[i]);
        }
        Ok(FoodProperties {
            conductivity: Si::from_si(conducted / volume),
            density: Si::from_si(1.0 / volume),
            heat_capacity: Si::from_si(heat),
        })
    }

    /// Diffusivity: conductivity over density times heat capacity.
    pub fn diffusivity(&self) -> ThermalDiffusivity {
        Si::from_si(self.conductivity.si() / (self.density.si() * self.heat_capacity.si()))
    }
}

/// A composition of mass fractions given by the caller, which add up to 0.97 to 1.03.
///
/// ```
/// use stillhot::food::{FoodProperties, composition};
/// use stillhot::units::{Si, celsius, fraction};
///
/// // Lean beef at 60 °C: COMPUTED from the same equations by other code.
/// let beef = composition([0.73, 0.22, 0.04, 0.0, 0.0, 0.01].map(fraction))?;
/// let at_60 = FoodProperties::of(&beef, celsius(60.0))?;
/// assert!((at_60.heat_capacity.si() - 3609.9).abs() < 0.05);
/// # Ok::<(), stillhot::Error>(())
/// ```
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] for a fraction outside 0 to 1, [`crate::ErrorKind::Inconsistent`] if they do not
/// add up.
pub fn composition(water_protein_fat_carbohydrate_fibre_ash: [Ratio; 6]) -> Result<Composition, Error> {
    let evidence = super::kinetics::blank();
    Composition::new(water_protein_fat_carbohydrate_fibre_ash.map(Si::si), evidence).within("composition")
}
