//! Words of the uncertainty budgets.

/// Names of sources, distributions and origins, by key.
pub fn label(key: &str) -> Option<&'static str> {
    Some(match key {
        "section-budgets" => "Uncertainty budgets",
        "budgets-reading" => {
            "Each line is a source: its standard uncertainty, the change of the value with it (for relative sources, for a change of one per cent), and what it contributes. Contributions are added in squares (JCGM 100:2008); a source acts on all quantities of a sheet alike, so that ratios lose what they share."
        }
        "standard-uncertainty" => "Standard uncertainty",
        "distribution" => "Distribution",
        "sensitivity" => "Sensitivity",
        "contribution" => "Contribution",
        "share-of-variance" => "Share of variance",
        "from" => "From",
        "small-sources" => "below 0.01 % each",
        "not-in-budget" => "Not in it:",
        "assumed" => "Taken for want of a statement in the record (common practice, no source):",
        "distribution-normal" => "normal",
        "distribution-rectangular" => "rectangular",
        "distribution-triangular" => "triangular",
        "distribution-u-shaped" => "arc sine",
        "distribution-t" => "Student",
        "source-calibration" => "calibration, magnitude",
        "source-calibration-phase" => "calibration, phase",
        "source-low-pass" => "low-pass",
        "source-gain" => "gain of the chain",
        "source-drive" => "stability of the drive",
        "source-repetition-rate" => "repetition rate",
        "source-water-temperature" => "temperature of the water",
        "source-axes-scale" => "scale of the axes",
        "source-position" => "positions of the points",
        "source-noise" => "noise",
        "source-noise-bias" => "correction of the peak for noise",
        "source-spatial-averaging" => "correction for the sensor’s size",
        "source-peak-fit" => "fit of the spatial peak",
        "source-scan-window" => "field outside the scan",
        "source-shots-before" => "check source before: scatter",
        "source-shots-after" => "check source after: scatter",
        "source-check-placing" => "repetition of source and placing",
        "source-reference-certificate" => "calibrated sensor: certificate",
        "source-reference-repeatability" => "calibrated sensor: scatter",
        "source-source-drift" => "drift of the check source",
        "source-element-size" => "unequal sizes of the sensors",
        "source-transfer-repeatability" => "check source: scatter",
        "source-transfer-noise" => "check source: noise",
        "source-flatness" => "one factor for all frequencies",
        "source-linearity" => "one factor for all levels",
        "source-temperature" => "temperature of the sensor",
        "from-record" => "record",
        "from-common-practice" => "assumed",
        "from-revisits" => "revisits",
        "from-check-source" => "check source",
        "from-signal-and-low-pass" => "the signal beyond the low-pass",
        "from-pre-arrival" => "the data before the arrival",
        "from-added-noise" => "adding noise once more",
        "from-third-of-correction" => "a third of the correction",
        "from-residual" => "residuals of the fit",
        "from-fall-to-the-edge" => "the fall toward the edge",
        _ => return None,
    })
}

/// How the lines of a budget combine. Known: u, k, coverage, expanded, common, repeatability, and nu
/// where the degrees of freedom are finite.
pub fn sum(args: &[(&str, String)]) -> String {
    let said = said(args);
    let freedom = match args.iter().find(|(name, _)| *name == "nu") {
        Some((_, nu)) => format!("effective degrees of freedom {nu}"),
        None => "effective degrees of freedom without limit".to_owned(),
    };
    format!(
        "Combined standard uncertainty {}; {freedom}; k = {} for {}; U = {}. Standard uncertainty that all measurements with these means share: {}; that differs from one to the next: {}.",
        said("u"),
        said("k"),
        said("coverage"),
        said("expanded"),
        said("common"),
        said("repeatability"),
    )
}

/// What drawing every line gives. Known: draws, seed, mean, low, high, and agrees or departs.
pub fn drawn(args: &[(&str, String)]) -> String {
    let said = said(args);
    let verdict = if args.iter().any(|(name, _)| *name == "agrees") {
        "which agrees with the interval above to one digit of u (JCGM 101:2008, 8.1)"
    } else {
        "which departs from the interval above by more than half a unit of the first digit of u (JCGM 101:2008, 8.1)"
    };
    format!(
        "Drawn from the distributions ({} draws, seed {}): mean {}, shortest interval {} to {}, {verdict}.",
        said("draws"),
        said("seed"),
        said("mean"),
        said("low"),
        said("high"),
    )
}

/// A source that was assumed, with its standard uncertainty.
pub fn assumed(name: &str, value: &str) -> String {
    format!("{name}: standard uncertainty {value}")
}

fn said<'a>(args: &'a [(&str, String)]) -> impl Fn(&str) -> &'a str {
    move |name| args.iter().find(|(n, _)| *n == name).map_or("", |(_, text)| text.as_str())
}
