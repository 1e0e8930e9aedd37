//! Large sparse symmetric positive definite systems on grids: nested dissection of a tensor grid, one analysis for all
//! matrices of a pattern, a Cholesky factor by fronts, substitutions.
//!
//! Rows and columns are numbered by the caller throughout; the order of elimination stays inside.

mod dissection;
mod factor;
mod front;
mod pattern;
mod symbolic;

pub(crate) use factor::SparseFactor;
pub(crate) use pattern::Pattern;
pub(crate) use symbolic::Symbolic;
