//! Stand-in until `statistics` is merged.

fn erfc(x: f64) -> f64 {
    if x < 0.0 {
        return 2.0 - erfc(-x);
    }
    if x < 2.5 {
        let mut term = x;
        let mut sum = x;
        for n in 1..200 {
            term *= -x * x / n as f64;
            sum += term / (2 * n + 1) as f64;
        }
        return 1.0 - 2.0 / std::f64::consts::PI.sqrt() * sum;
    }
    let mut f = 0.0;
    for n in (1..200).rev() {
        f = n as f64 / 2.0 / (x + f);
    }
    (-x * x).exp() / std::f64::consts::PI.sqrt() / (x + f)
}
fn phi(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}
fn t_cdf(t: f64, nu: f64) -> f64 {
    // theta substitution: density in θ is cos^(ν−1)
    let n = 20000;
    let to = (t / nu.sqrt()).atan();
    let f = |a: f64| a.cos().powf(nu - 1.0);
    let integral = |a: f64, b: f64| {
        let h = (b - a) / n as f64;
        (0..n).map(|i| f(a + (i as f64 + 0.5) * h)).sum::<f64>() * h
    };
    let half = std::f64::consts::FRAC_PI_2;
    0.5 + integral(0.0, to) / (2.0 * integral(0.0, half))
}
pub fn interval_probability(
    y: f64,
    u: f64,
    nu: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
) -> f64 {
    let c = |x: f64| nu.map_or_else(|| phi(x), |nu| t_cdf(x, nu));
    let b = high.map_or(1.0, |h| c((h - y) / u));
    let a = low.map_or(0.0, |l| c((l - y) / u));
    b - a
}
pub fn tolerance_factor(n: usize, p: f64, gamma: f64) -> f64 {
    let z = |p: f64| {
        let (mut a, mut b) = (-10.0, 10.0);
        for _ in 0..80 {
            let m = 0.5 * (a + b);
            if phi(m) < p { a = m } else { b = m }
        }
        a
    };
    let (zp, zg, n) = (z(p), z(gamma), n as f64);
    let a = 1.0 - zg * zg / (2.0 * (n - 1.0));
    let b = zp * zp - zg * zg / n;
    (zp + (zp * zp - a * b).sqrt()) / a
}
