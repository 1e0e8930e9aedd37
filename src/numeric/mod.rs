//! Numerical methods that know nothing of heat.

pub(crate) mod inversion;
pub(crate) mod roots;
pub(crate) mod special;
