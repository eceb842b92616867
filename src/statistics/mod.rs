//! Distributions, moments, lines and coverage intervals: numbers in, numbers out.
//!
//! Conventions: probabilities lie between 0 and 1; a number of degrees of freedom is real and positive,
//! and where it is an `Option`, `None` means infinitely many. `None` as a result means that the arguments
//! do not define one.
//!
//! The special functions are our own: what is needed are ratios of gamma functions and tails that keep
//! their digits at any number of degrees of freedom, which differences of a general ln Γ lose and which
//! the page would pay for in size; a Stirling remainder and two continued fractions are enough.

mod continued_fraction;
pub mod coverage_interval;
pub mod effective_freedom;
pub mod interval_probability;
pub mod moments;
pub mod noncentral_t;
pub mod normal;
pub mod numerical_tolerance;
mod root;
mod stirling;
pub mod straight_line;
pub mod student_t;
pub mod tolerance_factor;
pub mod weighted_line;
