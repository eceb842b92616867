//! Signs of bubbles beside the shots of scans.

use super::prepare::Prepared;
use super::survey::Plan;
use crate::base::bubbles::BubbleSigns;
use crate::base::error::Problem;
use crate::base::finding::Finding;

/// Signs of bubbles in all scans that have a monitor beside them, and in sweeps without one.
///
/// # Errors
/// When a file cannot be read.
pub fn evaluate(
    _prepared: &Prepared,
    _plan: &Plan,
    _findings: &mut Vec<Finding>,
) -> Result<Vec<BubbleSigns>, Problem> {
    Ok(Vec::new())
}
