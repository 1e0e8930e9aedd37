//! Free convection on a body in open air: Nusselt numbers.
//!
//! Properties at the mean of surface and air temperature. `rayleigh` Ra and `nusselt` share one length, named with each
//! relation. A Rayleigh number of zero is accepted: it is a body as warm as the air.

use super::{Validity, Value, input};
use crate::Error;

fn ra_pr(rayleigh: f64, prandtl: f64) -> Result<(f64, f64), Error> {
    Ok((input::non_negative("Rayleigh number", rayleigh, "1")?, input::positive("Prandtl number", prandtl, "1")?))
}

/// Vertical plate, laminar and turbulent \[1\]; length: the height.
///
/// ```text
/// Nu = (0.825 + 0.387 Ra^(1/6)/(1 + (0.492/Pr)^(9/16))^(8/27))^2
/// ```
/// `rayleigh` Ra \[1\], range 0.1 to 1e12; `prandtl` Pr \[1\], any.
///
/// Source: S. W. Churchill, H. H. S. Chu, Correlating equations for laminar and turbulent free convection from a vertical
/// plate, Int. J. Heat Mass Transfer 18 (1975) 1323, <https://doi.org/10.1016/0017-9310(75)90243-4>; constants READ in an
/// open heat-transfer library that checked them against the paper; range MEMORY (textbooks).
///
/// # Errors
/// An input not finite, Ra below zero, Pr not above zero.
///
/// # Examples
/// Incropera, 6th ed., Example 9.2: Ra 1.813e9, Pr 0.69, Nu 147 (MEMORY; the heat rate was READ):
/// ```
/// let nu = stillhot::correlation::free_convection::vertical_plate_churchill_chu(1.813e9, 0.69)?;
/// assert!((nu.value - 147.0).abs() < 0.5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_plate_churchill_chu(rayleigh: f64, prandtl: f64) -> Result<Value, Error> {
    let (ra, pr) = ra_pr(rayleigh, prandtl)?;
    let damping = (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    let nu = (0.825 + 0.387 * ra.powf(1.0 / 6.0) / damping).powi(2);
    Value::new(nu, Validity::Inside.check("Rayleigh number", ra, "1", 0.1..=1e12))
}

/// Vertical plate, laminar only, a little more accurate there \[1\]; length: the height.
///
/// ```text
/// Nu = 0.68 + 0.670 Ra^(1/4)/(1 + (0.492/Pr)^(9/16))^(4/9)
/// ```
/// `rayleigh` Ra \[1\], range up to 1e9; `prandtl` Pr \[1\], any.
///
/// Source: Churchill and Chu as [`vertical_plate_churchill_chu`]; MEMORY.
///
/// # Errors
/// As [`vertical_plate_churchill_chu`].
///
/// # Examples
/// At rest the relation keeps its constant; at Ra 1e6 and Pr 0.7 it lies 2.3 % above the one for all flows
/// (COMPUTED):
/// ```
/// use stillhot::correlation::free_convection as free;
/// assert_eq!(free::vertical_plate_churchill_chu_laminar(0.0, 0.7)?.value, 0.68);
/// let laminar = free::vertical_plate_churchill_chu_laminar(1e6, 0.7)?.value;
/// let all = free::vertical_plate_churchill_chu(1e6, 0.7)?.value;
/// assert!((laminar / all - 1.0233).abs() < 1e-3);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_plate_churchill_chu_laminar(rayleigh: f64, prandtl: f64) -> Result<Value, Error> {
    let (ra, pr) = ra_pr(rayleigh, prandtl)?;
    let damping = (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(4.0 / 9.0);
    let nu = 0.68 + 0.670 * ra.powf(0.25) / damping;
    Value::new(nu, Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=1e9))
}

/// Horizontal plate whose warm side looks up, or cool side down \[1\]; length: area over perimeter.
///
/// ```text
/// Nu = 0.54 Ra^(1/4)  for Ra up to 1e7,   0.15 Ra^(1/3)  above
/// ```
/// `rayleigh` Ra \[1\], range 1e4 to 1e11. The two branches differ by 6 % where they meet.
///
/// Source: W. H. McAdams, Heat Transmission, 3rd ed., 1954, READ in an open heat-transfer library; length after J. R.
/// Lloyd, W. R. Moran, Natural convection adjacent to horizontal surface of various planforms, J. Heat Transfer 96
/// (1974) 443, and range as in textbooks, MEMORY.
///
/// # Errors
/// An input not finite, Ra below zero.
///
/// # Examples
/// That library prints 181.7312 for Pr 5.54 and Gr 3.21e8 (READ):
/// ```
/// let nu = stillhot::correlation::free_convection::horizontal_plate_upward_mcadams(5.54 * 3.21e8)?;
/// assert!((nu.value - 181.73121274384457).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_plate_upward_mcadams(rayleigh: f64) -> Result<Value, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    let nu = if ra <= 1e7 { 0.54 * ra.powf(0.25) } else { 0.15 * ra.cbrt() };
    Value::new(nu, Validity::Inside.check("Rayleigh number", ra, "1", 1e4..=1e11))
}

/// Horizontal plate whose warm side looks down, or cool side up \[1\]; length: area over perimeter.
///
/// ```text
/// Nu = 0.27 Ra^(1/4)
/// ```
/// `rayleigh` Ra \[1\], range 1e5 to 1e10. Source as [`horizontal_plate_upward_mcadams`].
///
/// # Errors
/// An input not finite, Ra below zero.
///
/// # Examples
/// The library named there prints 55.44565 for Pr 5.54 and Gr 3.21e8 (READ):
/// ```
/// let nu = stillhot::correlation::free_convection::horizontal_plate_downward_mcadams(5.54 * 3.21e8)?;
/// assert!((nu.value - 55.44564799362829).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_plate_downward_mcadams(rayleigh: f64) -> Result<Value, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    Value::new(0.27 * ra.powf(0.25), Validity::Inside.check("Rayleigh number", ra, "1", 1e5..=1e10))
}

/// Horizontal cylinder \[1\]; length: the diameter.
///
/// ```text
/// Nu = (0.60 + 0.387 Ra^(1/6)/(1 + (0.559/Pr)^(9/16))^(8/27))^2
/// ```
/// `rayleigh` Ra \[1\], range 1e-5 to 1e12; `prandtl` Pr \[1\], any.
///
/// Source: S. W. Churchill, H. H. S. Chu, Correlating equations for laminar and turbulent free convection from a
/// horizontal cylinder, Int. J. Heat Mass Transfer 18 (1975) 1049, <https://doi.org/10.1016/0017-9310(75)90222-7>;
/// constants and range READ in an open heat-transfer library.
///
/// # Errors
/// An input not finite, Ra below zero, Pr not above zero.
///
/// # Examples
/// That library prints 139.13493970073597 for Pr 0.69 and Gr 2.63e9 (READ):
/// ```
/// let nu = stillhot::correlation::free_convection::horizontal_cylinder_churchill_chu(0.69 * 2.63e9, 0.69)?;
/// assert!((nu.value - 139.13493970073597).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_cylinder_churchill_chu(rayleigh: f64, prandtl: f64) -> Result<Value, Error> {
    let (ra, pr) = ra_pr(rayleigh, prandtl)?;
    let damping = (1.0 + (0.559 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    let nu = (0.60 + 0.387 * ra.powf(1.0 / 6.0) / damping).powi(2);
    Value::new(nu, Validity::Inside.check("Rayleigh number", ra, "1", 1e-5..=1e12))
}

/// Vertical cylinder of any slenderness, laminar \[1\]; length: the height.
///
/// ```text
/// Nu = Nu_plate (1 + B (32^(1/2) Gr^(-1/4) H/D)^C),
/// B = 0.0571322 + 0.20305 Pr^-0.43,   C = 0.9165 - 0.0043 Pr^(1/2) + 0.01333 ln Pr + 0.0004809/Pr
/// ```
/// `grashof` Gr of the height \[1\], range up to Gr Pr = 1e9; `prandtl` Pr \[1\], range 0.01 to 100; `slenderness` H/D
/// \[1\]. Nu_plate by [`vertical_plate_churchill_chu`]. Without a temperature difference it has no value.
///
/// Source: C. O. Popiel, J. Wojtkowiak, K. Bober, Laminar free convective heat transfer from isothermal vertical slender
/// cylinder, Exp. Therm. Fluid Sci. 32 (2007) 607, <https://doi.org/10.1016/j.expthermflusci.2007.07.003>; READ in an
/// open heat-transfer library.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// That library prints 228.89790055149896 for Pr 0.7, Gr 1e10, H/D 2.5 (READ; beyond the laminar range, and flagged):
/// ```
/// let nu = stillhot::correlation::free_convection::vertical_cylinder_popiel(1e10, 0.7, 2.5)?;
/// assert!((nu.value - 228.89790055149896).abs() < 1e-9);
/// assert_eq!(nu.outside().map(|e| e.input), Some("Rayleigh number"));
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_cylinder_popiel(grashof: f64, prandtl: f64, slenderness: f64) -> Result<Value, Error> {
    let gr = input::positive("Grashof number", grashof, "1")?;
    let pr = input::positive("Prandtl number", prandtl, "1")?;
    let slender = input::positive("height over diameter", slenderness, "1")?;
    let plate = vertical_plate_churchill_chu(gr * pr, pr)?;
    let b = 0.057_132_2 + 0.203_05 * pr.powf(-0.43);
    let c = 0.9165 - 0.0043 * pr.sqrt() + 0.013_33 * pr.ln() + 0.000_480_9 / pr;
    let nu = plate.value * (1.0 + b * (32_f64.sqrt() * gr.powf(-0.25) * slender).powf(c));
    let validity =
        plate.validity.check("Rayleigh number", gr * pr, "1", 0.0..=1e9).check("Prandtl number", pr, "1", 0.01..=100.0);
    Value::new(nu, validity)
}

/// Sphere \[1\]; length: the diameter.
///
/// ```text
/// Nu = 2 + 0.589 Ra^(1/4)/F^(4/9) (1 + 7.44e-8 Ra/F^(16/9))^(1/12),   F = 1 + (0.469/Pr)^(9/16)
/// ```
/// `rayleigh` Ra \[1\], range up to 1e13; `prandtl` Pr \[1\], any.
///
/// Source: S. W. Churchill in E. U. Schlunder (ed.), Heat Exchanger Design Handbook, 1983; READ in an open
/// heat-transfer library that checked it against the original.
///
/// # Errors
/// An input not finite, Ra below zero, Pr not above zero.
///
/// # Examples
/// That library prints 25.670869440317578 for Pr 0.7 and Gr 1e7 (READ):
/// ```
/// let nu = stillhot::correlation::free_convection::sphere_churchill(0.7e7, 0.7)?;
/// assert!((nu.value - 25.670869440317578).abs() < 1e-10);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn sphere_churchill(rayleigh: f64, prandtl: f64) -> Result<Value, Error> {
    let (ra, pr) = ra_pr(rayleigh, prandtl)?;
    let f = 1.0 + (0.469 / pr).powf(9.0 / 16.0);
    let turbulence = (1.0 + 7.44e-8 * ra / f.powf(16.0 / 9.0)).powf(1.0 / 12.0);
    let nu = 2.0 + 0.589 * ra.powf(0.25) / f.powf(4.0 / 9.0) * turbulence;
    Value::new(nu, Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=1e13))
}
