//! Two-dimensional sections against exact solutions, a standard, and independent computations; sources beside each.

mod cases;
mod steady;
