//! Numerics without domain words: slices and a sample interval in, numbers out.
//!
//! Conventions: forward transform X(k) = Σ x(n) exp(−2πi kn/N) without a factor, inverse with 1/N;
//! a time function is A exp(+jωt), so a delay is a falling phase. Spectra are two-sided in storage
//! order unless a function says otherwise.

pub mod aligned;
pub mod contour;
pub mod correlation;
pub mod disc_mean;
pub mod energy;
pub mod envelope;
pub mod extremum;
pub mod filter;
mod fine_region;
pub mod interpolate;
pub mod minimum_phase;
pub mod noise;
pub mod onset;
pub mod plane_spectrum;
pub mod power_density;
pub mod quadratic;
pub mod region_moments;
pub mod smooth_surface;
pub mod statistics;
pub mod surface;
pub mod synthesis;
pub mod tone;
pub mod tones;
pub mod unwrapped;
pub mod weighted_surface;
pub mod zero_crossings;
