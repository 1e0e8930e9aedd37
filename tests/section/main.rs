//! Two-dimensional sections against exact solutions, a standard, and independent computations; sources beside each.

mod builders;
mod cases;
mod in_time;
mod likeness;
mod matrices;
mod ports;
mod published;
mod refusals;
mod standard;
mod steady;
mod study;
