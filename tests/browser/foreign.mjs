// Scan files as a laboratory writes them, of invented waveforms with known peaks: a Gaussian beam of a
// toneburst, through a flat sensor. Closed forms, so that the truth is that of this file alone.

export const TRUTH = {
  frequency_hz: 1.5e6,
  cycles: 12,
  // Peak pressure of either sign at the beam's axis.
  peak_pa: 2.0e6,
  v_per_pa: 4.0e-8,
  // Full width at −6 dB of the pressure: exp(−r²/w²) is a half at r = w √(ln 2).
  radius_m: 1.2e-3,
  points: 21,
  step_m: 2.5e-4,
  interval_s: 2.0e-8,
  samples: 600,
  volts_per_count: 1.0e-4,
};

// The pressure on the axis; the crest in the middle of the burst is one of its samples.
const pressure = (k) => {
  const { frequency_hz: f, cycles, interval_s: dt, samples, peak_pa: peak } = TRUTH;
  const middle = Math.round(samples / 2);
  const t = (k - middle) * dt;
  const half = cycles / (2 * f);
  // A rise and fall over one and a half periods, as sin².
  const edge = 1.5 / f;
  const from = half - Math.abs(t);
  const rise = from <= 0 ? 0 : from >= edge ? 1 : Math.sin((Math.PI / 2) * (from / edge)) ** 2;
  return peak * rise * Math.cos(2 * Math.PI * f * t);
};

const place = (i) => (i - (TRUTH.points - 1) / 2) * TRUTH.step_m;
const gain = (i, j) => Math.exp(-(place(i) ** 2 + place(j) ** 2) / TRUTH.radius_m ** 2);
const all = (n) => Array.from({ length: n }, (_, i) => i);
const wave = all(TRUTH.samples).map((k) => pressure(k) * TRUTH.v_per_pa);

// A point a row, with headings: positions in mm, samples in mV.
export const headed = () => {
  const { points, samples, interval_s: dt } = TRUTH;
  const head = ['X pos (mm)', 'Y pos (mm)', ...all(samples).map((k) => (k * dt * 1e6).toFixed(2))].join(',');
  const rows = all(points).flatMap((j) => all(points).map((i) => {
    const values = wave.map((v) => (v * gain(i, j) * 1e3).toFixed(4));
    return [(place(i) * 1e3).toFixed(2), (place(j) * 1e3).toFixed(2), ...values].join(',');
  }));
  return [head, ...rows].join('\n') + '\n';
};

// A sample a row, with headings.
export const long = () => {
  const { points, samples, interval_s: dt } = TRUTH;
  const rows = all(points).flatMap((j) => all(points).flatMap((i) => all(samples).map((k) =>
    [(place(i) * 1e3).toFixed(2), (place(j) * 1e3).toFixed(2), (k * dt * 1e6).toFixed(2), (wave[k] * gain(i, j) * 1e3).toFixed(4)].join(';'))));
  return ['x [mm];y [mm];time [us];CH1 [mV]', ...rows].join('\n') + '\n';
};

// No headings: the numbers of column and row, then counts.
export const bare = () => {
  const { points, volts_per_count: lsb } = TRUTH;
  const rows = all(points).flatMap((j) => all(points).map((i) =>
    [i, j, ...wave.map((v) => Math.round((v * gain(i, j)) / lsb))].join(',')));
  return rows.join('\n') + '\n';
};
