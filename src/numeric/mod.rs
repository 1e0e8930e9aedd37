//! Small numerical tools that know nothing of heat: factorisation now, roots and sampling as they earn their place.

pub(crate) mod dense;
pub(crate) mod tridiagonal;
