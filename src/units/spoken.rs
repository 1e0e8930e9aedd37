//! How each quantity is named, and in which units people speak of it.

use super::dimension::Dimension;
use super::scale::{CELSIUS, DEGREE, ONE, Scale};
use super::{
    Angle, Area, DynamicViscosity, Energy, HeatCapacity, HeatFluxDensity, HeatTransfer, KinematicViscosity, Length,
    Mass, MassDensity, MassRate, Power, Pressure, Ratio, Si, SpecificEnergy, SpecificHeatCapacity, Temperature,
    TemperatureCoefficient, TemperatureInterval, ThermalConductance, ThermalConductivity, ThermalDiffusivity,
    ThermalInsulance, ThermalResistance, Time, Velocity, Volume, VolumetricHeatCapacity, VolumetricPower,
};

/// A quantity that has a name, and that can be read from text and written as text with its unit.
///
/// It is implemented for the quantities of this module and cannot be implemented outside the crate.
pub trait Spoken: Si + Copy + sealed::Speech {
    /// The name in English, without article: "thermal conductivity".
    const NAME: &'static str;
    /// A text that [`parse`](super::parse) reads: "0.023 W/(m K)".
    const EXAMPLE: &'static str;
}

pub(super) mod sealed {
    use super::{Dimension, Form, Rung};

    /// What the reader and the writer must know beyond the name.
    pub trait Speech {
        /// The dimension that a unit must have.
        const DIMENSION: Dimension;
        /// What sets the quantity apart from others of its dimension.
        const FORM: Form;
        /// The units it is written in, by rising size; the first one from zero on.
        const LADDER: &'static [Rung];
    }
}

/// What sets a quantity apart in text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A number and a unit expression of the right dimension.
    Plain,
    /// A number without unit will do.
    Bare,
    /// One of °C, °F, K, counted from the zero of that scale.
    Temperature,
    /// K only.
    Interval,
    /// As plain; or in several parts, or with its unit written out ("1 h 30 min", "2 days").
    Span,
}

/// A unit to write in, from a size on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rung {
    /// The smallest magnitude in the SI unit that is written so.
    pub(super) from: f64,
    /// The unit as written; empty for none.
    pub(super) unit: &'static str,
    /// Its size.
    pub(super) scale: Scale,
}

const fn rung(from: f64, unit: &'static str, scale: Scale) -> Rung {
    Rung { from, unit, scale }
}

/// Says each quantity once, for the trait and for the names of dimensions.
macro_rules! spoken {
    ($($quantity:ident, $name:literal, $example:literal, $dimension:expr, $form:ident, [$($rung:expr),+];)+) => {
        $(
            impl Spoken for $quantity {
                const NAME: &'static str = $name;
                const EXAMPLE: &'static str = $example;
            }
            impl sealed::Speech for $quantity {
                const DIMENSION: Dimension = $dimension;
                const FORM: Form = Form::$form;
                const LADDER: &'static [Rung] = &[$($rung),+];
            }
        )+

        const NAMES: &[(Dimension, &str)] = &[$(($dimension, $name)),+];

        /// Calls a generic test once for each quantity.
        #[cfg(test)]
        macro_rules! for_each_quantity {
            ($test:ident $arguments:tt) => { $( $test::<$crate::units::$quantity> $arguments; )+ };
        }
        #[cfg(test)]
        pub(super) use for_each_quantity;
    };
}

spoken! {
    Length, "length", "50 mm", Dimension::new(1, 0, 0, 0), Plain,
        [rung(0.0, "mm", Scale::part(1e3)), rung(1.0, "m", ONE)];
    Area, "area", "0.2 m2", Dimension::new(2, 0, 0, 0), Plain,
        [rung(0.0, "cm2", Scale::part(1e4)), rung(0.1, "m2", ONE)];
    Volume, "volume", "7 L", Dimension::new(3, 0, 0, 0), Plain,
        [rung(0.0, "mL", Scale::part(1e6)), rung(1e-3, "L", Scale::part(1e3)), rung(1.0, "m3", ONE)];
    Mass, "mass", "2.5 kg", Dimension::new(0, 1, 0, 0), Plain,
        [rung(0.0, "g", Scale::part(1e3)), rung(1.0, "kg", ONE)];
    Time, "time", "6 h", Dimension::new(0, 0, 1, 0), Span,
        [rung(0.0, "s", ONE), rung(60.0, "min", Scale::times(60.0)), rung(7_200.0, "h", Scale::times(3_600.0))];
    Temperature, "temperature", "98 °C", Dimension::new(0, 0, 0, 1), Temperature,
        // Near absolute zero the subtraction of 273.15 would cost digits.
        [rung(0.0, "K", ONE), rung(100.0, "°C", CELSIUS)];
    TemperatureInterval, "temperature interval", "33 K", Dimension::new(0, 0, 0, 1), Interval,
        [rung(0.0, "K", ONE)];
    Angle, "angle", "90 °", Dimension::ANGLE, Plain,
        [rung(0.0, "°", DEGREE), rung(100.0, "rad", ONE)];
    Ratio, "ratio", "0.9", Dimension::NONE, Bare,
        [rung(0.0, "", ONE)];
    Energy, "energy", "850 kJ", Dimension::new(2, 1, -2, 0), Plain,
        [rung(0.0, "J", ONE), rung(1e3, "kJ", Scale::times(1e3)), rung(1e6, "MJ", Scale::times(1e6))];
    SpecificEnergy, "specific energy", "2257 kJ/kg", Dimension::new(2, 0, -2, 0), Plain,
        [rung(0.0, "J/kg", ONE), rung(1e3, "kJ/kg", Scale::times(1e3))];
    Power, "power", "25 W", Dimension::new(2, 1, -3, 0), Plain,
        [rung(0.0, "W", ONE), rung(1e4, "kW", Scale::times(1e3))];
    Pressure, "pressure", "101.325 kPa", Dimension::new(-1, 1, -2, 0), Plain,
        [rung(0.0, "Pa", ONE), rung(1e3, "kPa", Scale::times(1e3))];
    Velocity, "velocity", "0.5 m/s", Dimension::new(1, 0, -1, 0), Plain,
        [rung(0.0, "m/s", ONE)];
    MassRate, "mass rate", "12 g/h", Dimension::new(0, 1, -1, 0), Plain,
        [rung(0.0, "g/h", Scale::part(3.6e6)), rung(1.0, "kg/s", ONE)];
    MassDensity, "mass density", "32 kg/m3", Dimension::new(-3, 1, 0, 0), Plain,
        [rung(0.0, "kg/m3", ONE)];
    HeatCapacity, "heat capacity", "29.3 kJ/K", Dimension::new(2, 1, -2, -1), Plain,
        [rung(0.0, "J/K", ONE), rung(1e3, "kJ/K", Scale::times(1e3))];
    SpecificHeatCapacity, "specific heat capacity", "1470 J/(kg K)", Dimension::new(2, 0, -2, -1), Plain,
        [rung(0.0, "J/(kg K)", ONE)];
    VolumetricHeatCapacity, "volumetric heat capacity", "47 kJ/(m3 K)", Dimension::new(-1, 1, -2, -1), Plain,
        [rung(0.0, "J/(m3 K)", ONE), rung(1e3, "kJ/(m3 K)", Scale::times(1e3)),
         rung(1e6, "MJ/(m3 K)", Scale::times(1e6))];
    VolumetricPower, "volumetric power", "500 W/m3", Dimension::new(-1, 1, -3, 0), Plain,
        [rung(0.0, "W/m3", ONE)];
    HeatFluxDensity, "heat flux density", "60 W/m2", Dimension::new(0, 1, -3, 0), Plain,
        [rung(0.0, "W/m2", ONE)];
    HeatTransfer, "heat transfer coefficient", "8 W/(m2 K)", Dimension::new(0, 1, -3, -1), Plain,
        [rung(0.0, "W/(m2 K)", ONE)];
    ThermalConductivity, "thermal conductivity", "0.023 W/(m K)", Dimension::new(1, 1, -3, -1), Plain,
        [rung(0.0, "W/(m K)", ONE)];
    ThermalConductance, "thermal conductance", "0.4 W/K", Dimension::new(2, 1, -3, -1), Plain,
        [rung(0.0, "W/K", ONE)];
    ThermalResistance, "thermal resistance", "2.5 K/W", Dimension::new(-2, -1, 3, 1), Plain,
        [rung(0.0, "K/W", ONE)];
    ThermalInsulance, "thermal insulance", "0.2 m2 K/W", Dimension::new(0, -1, 3, 1), Plain,
        [rung(0.0, "m2 K/W", ONE)];
    ThermalDiffusivity, "thermal diffusivity", "0.14 mm2/s", Dimension::new(2, 0, -1, 0), Plain,
        [rung(0.0, "mm2/s", Scale::part(1e6)), rung(1.0, "m2/s", ONE)];
    KinematicViscosity, "kinematic viscosity", "16 mm2/s", Dimension::new(2, 0, -1, 0), Plain,
        [rung(0.0, "mm2/s", Scale::part(1e6)), rung(1.0, "m2/s", ONE)];
    DynamicViscosity, "dynamic viscosity", "0.28 mPa s", Dimension::new(-1, 1, -1, 0), Plain,
        [rung(0.0, "mPa s", Scale::part(1e3)), rung(1.0, "Pa s", ONE)];
    TemperatureCoefficient, "temperature coefficient", "0.0034 1/K", Dimension::new(0, 0, 0, -1), Plain,
        [rung(0.0, "1/K", ONE)];
}

/// `name` with its article: "a length", "an area".
pub(super) fn with_article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// What a unit of this dimension measures: "a length", or the base units where no quantity is known.
pub(super) fn what_has(dimension: Dimension) -> String {
    let names: Vec<&str> = NAMES.iter().filter(|(of, _)| *of == dimension).map(|(_, name)| *name).collect();
    if names.is_empty() {
        format!("something in {}", dimension.in_base_units())
    } else {
        with_article(&names.join(" or "))
    }
}

#[cfg(test)]
mod tests {
    use super::super::expression;
    use super::*;

    fn ladder_agrees_with_reader<Q: Spoken>() {
        for (at, rung) in Q::LADDER.iter().enumerate() {
            assert_eq!(rung.from == 0.0, at == 0, "{}: the ladder starts at zero", Q::NAME);
            if rung.unit.is_empty() {
                assert_eq!((rung.scale, Q::FORM), (ONE, Form::Bare));
                continue;
            }
            let measure = expression::read(rung.unit).unwrap();
            assert_eq!(measure.dimension, Q::DIMENSION, "{}", Q::NAME);
            let scale = measure.lone.map_or(measure.scale, |unit| unit.scale);
            let (read, written) = (scale.to_si(1.0), rung.scale.to_si(1.0));
            assert!((read - written).abs() <= 2.0 * f64::EPSILON * read, "{}: {read} {written}", Q::NAME);
        }
        assert!(Q::LADDER.is_sorted_by(|a, b| a.from < b.from), "{}", Q::NAME);
    }

    #[test]
    fn what_is_written_can_be_read() {
        for_each_quantity!(ladder_agrees_with_reader());
    }

    fn dimension_agrees_with_uom<D, U>(_: uom::si::Quantity<D, U, f64>, ours: Dimension)
    where
        D: uom::si::Dimension + ?Sized,
        D::L: uom::typenum::Integer,
        D::M: uom::typenum::Integer,
        D::T: uom::typenum::Integer,
        D::Th: uom::typenum::Integer,
        U: uom::si::Units<f64> + ?Sized,
    {
        use uom::typenum::Integer;
        if ours != Dimension::ANGLE {
            assert_eq!(ours, Dimension::new(D::L::I32, D::M::I32, D::T::I32, D::Th::I32));
        }
    }

    macro_rules! check {
        ($($quantity:ident)+) => { $(
            dimension_agrees_with_uom($quantity::from_si(1.0), <$quantity as sealed::Speech>::DIMENSION);
        )+ };
    }

    #[test]
    fn dimensions_are_those_of_the_types() {
        check!(Length Area Volume Mass Time Temperature TemperatureInterval Angle Ratio Energy SpecificEnergy Power
            Pressure Velocity MassRate MassDensity HeatCapacity SpecificHeatCapacity VolumetricHeatCapacity
            VolumetricPower HeatFluxDensity HeatTransfer ThermalConductivity ThermalConductance ThermalResistance ThermalInsulance
            ThermalDiffusivity KinematicViscosity DynamicViscosity TemperatureCoefficient);
    }

    #[test]
    fn dimensions_have_names() {
        assert_eq!(what_has(Dimension::new(1, 0, 0, 0)), "a length");
        assert_eq!(what_has(Dimension::ANGLE), "an angle");
        assert_eq!(what_has(Dimension::new(2, 0, -1, 0)), "a thermal diffusivity or kinematic viscosity");
        assert_eq!(what_has(Dimension::new(4, 0, 0, 0)), "something in m4");
    }
}
