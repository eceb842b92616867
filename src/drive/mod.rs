//! Quantities against the drive level: the linear part, where it ends, how far the wave has steepened.
//!
//! Levels are in the operator's unit; pressure goes with an amplitude and with the root of a power.

pub mod abscissa;
pub mod bubble_signature;
pub mod front_rise;
pub mod joins;
pub mod linear_part;
pub mod linear_scaling;
pub mod nonlinear_propagation;
pub mod returns;
