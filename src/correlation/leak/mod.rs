//! Leaks: what passes gaps and openings of a box, what drives it, and the vapour and heat that go with it.
//!
//! | what | function |
//! |---|---|
//! | through-flow of a slit under a pressure | [`slit_flow`], [`slit_pressure`] |
//! | slits one behind the other; uneven gaps | [`series_flow`]; [`EffectiveWidth`] |
//! | opening of a centimetre and more, two ways at once | [`vertical_opening_brown_solvason`], [`horizontal_opening_epstein`] |
//! | gap at one level, two ways at once: below a resting lid, round a plug, along an upright seam | [`rim_slit_exchange`], [`plug_slit_exchange`], [`seam_exchange`] |
//! | pressure of a warm column; gaps at two levels, with wind | [`stack_pressure`], [`two_level_flow`] |
//! | vapour from the pot through the box to the outside | [`vapour_balance`] |
//! | loose lid of a pot | [`rim_diffusion`], [`steam_flow`] |
//! | heat that leaves with gas of the box | [`box_gas_heat`] |
//!
//! Two things decide. Flow through a slit goes with the third power of its width, and one gap at one level hardly
//! breathes while the same gap with a second one lower down is a chimney. Below some 5 mm a level rim passes vapour by
//! diffusion only; the formulas for large openings overstate it 7 to 50 times.
//!
//! A lid gap of 0.5 mm all round, with and without a second such gap 0.3 m lower, 90 °C and dry inside:
//!
//! ```
//! use stillhot::correlation::leak::{self, Continuity, Exchanging, Sides, Slit, TwoLevels};
//! use stillhot::correlation::moist_air::MoistState;
//!
//! let inside = MoistState { temperature: 363.15, vapour_pressure: 1023.447 };
//! let outside = MoistState { temperature: 288.15, vapour_pressure: 1023.447 };
//! let gap = Slit { width: 0.0005, depth: 0.05, length: 1.2, bends: 0 };
//! let gas = Exchanging::between(inside, outside, 101_325.0)?;
//! let level = leak::rim_slit_exchange(&gap, &gas)?;
//! let levels =
//!     TwoLevels { low: gap, high: gap, height: 0.3, wind: 0.0, continuity: Continuity::EqualVolume };
//! let chimney = leak::two_level_flow(&levels, &Sides::new(inside, outside, 101_325.0)?)?;
//! // 0.0013 and 0.017 m3/h (COMPUTED independently)
//! assert!((level.volume_flow * 3600.0 - 0.0013).abs() < 5e-5);
//! assert!((chimney.volume_flow * 3600.0 - 0.017).abs() < 5e-4);
//! # Ok::<(), stillhot::Error>(())
//! ```

mod box_gas;
mod exchange;
mod opening;
mod pot_lid;
mod slit;
mod two_level;
mod vapour;

pub use box_gas::{GasHeat, box_gas_heat};
pub use exchange::{
    Exchange, Exchanging, HeleShaw, Limit, PLUG_FACTOR, PLUG_UNCERTAINTY, Sides, SlitWalls, hele_shaw_exchange,
    plug_onset_width, plug_slit_exchange, rim_slit_exchange, seam_exchange, viscous_exchange_linear,
    viscous_exchange_sharp,
};
pub use opening::{
    Opening, horizontal_opening_epstein, horizontal_opening_froude_epstein, leakage_area, orifice_flow, power_law_flow,
    single_opening_stack_ashrae, vertical_opening_brown_solvason,
};
pub use pot_lid::{rim_diffusion, steam_flow};
pub use slit::{
    EffectiveWidth, Passage, SeriesFlow, Slit, SlitFlow, SlitGas, friction_factor_blasius, series_flow, slit_flow,
    slit_pressure, turbulent_slit_flow_blasius,
};
pub use two_level::{Continuity, Level, TwoLevelFlow, TwoLevels, stack_pressure, two_level_flow};
pub use vapour::{Liner, PotMouth, VapourBalance, VapourPath, vapour_balance};
