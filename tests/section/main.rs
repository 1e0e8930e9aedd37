//! Two-dimensional sections against exact solutions, a standard, and independent computations; sources beside each.

mod builders;
mod cases;
mod in_time;
mod likeness;
mod matrices;
mod published;
mod refusals;
mod steady;
mod study;
