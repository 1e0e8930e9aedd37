//! Numerical methods that know nothing of heat: factorisation, roots, sampling, Laplace inversion, special functions.

pub(crate) mod counting_sort;
pub(crate) mod dense;
pub(crate) mod inversion;
pub(crate) mod parallel;
pub(crate) mod ranks;
pub(crate) mod roots;
pub(crate) mod sequence;
mod sequence_directions;
pub(crate) mod sparse;
pub(crate) mod special;
pub(crate) mod tridiagonal;
