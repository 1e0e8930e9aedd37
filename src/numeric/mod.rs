//! Numerical methods that know nothing of heat: factorisation, roots, Laplace inversion, special functions.

pub(crate) mod dense;
pub(crate) mod inversion;
pub(crate) mod roots;
pub(crate) mod sparse;
pub(crate) mod special;
pub(crate) mod tridiagonal;
