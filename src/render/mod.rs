//! Writers of the finished sheet: HTML, JSON, CSV. Siblings over one finished model; none calls
//! another, none rounds, none computes.

pub mod csv;
mod finite;
pub mod html;
pub mod json;
#[cfg(test)]
mod sample;
