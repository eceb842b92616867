use super::*;

/// Deterministic numbers (Marsaglia, "Xorshift RNGs", J. Stat. Softw. 8(14), 2003: 13, 7, 17).
struct Random(u64);

impl Random {
    fn next(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % below as u64) as usize
    }
}

fn mutate(random: &mut Random, original: &[u8]) -> Vec<u8> {
    let mut bytes = original.to_vec();
    match random.next(4) {
        0 => bytes.truncate(random.next(bytes.len())),
        1 => {
            let (from, to) = (random.next(bytes.len()), random.next(bytes.len()));
            let n = random.next(64).min(bytes.len() - from.max(to));
            bytes.copy_within(from..from + n, to);
        }
        2 => {
            let at = random.next(bytes.len());
            let end = (at + 1 + random.next(8)).min(bytes.len());
            bytes[at..end].fill(0xff);
        }
        _ => {
            for _ in 0..=random.next(6) {
                let at = random.next(bytes.len());
                bytes[at] ^= 1 << random.next(8);
            }
        }
    }
    bytes
}

/// Reads all that a file offers, as far as it is not much.
fn read_everything(bytes: &[u8]) -> usize {
    let Ok(file) = try_open(bytes) else { return 0 };
    let mut read = 0;
    for array in file.arrays() {
        if array.elements() <= 1 << 14 {
            read += usize::from(file.read_numbers(&array.path, 1 << 14).is_ok());
        }
        let last: Vec<u64> = array.shape.iter().map(|n| n.saturating_sub(1)).collect();
        let one: Vec<u64> = array.shape.iter().map(|n| (*n).min(1)).collect();
        read += usize::from(file.read(&array.path, &last, &one).is_ok());
    }
    read
}

/// No panic, no hang, no great allocation, whatever the bytes.
#[test]
fn mutated_files() {
    let files = [
        AXES, CHUNKS, CHUNKS_NEW, DAMAGED, DEEP, DENSE, ELSEWHERE, GROUPS, HUGE, KINDS, LINE,
        MATLAB, SCALES,
    ];
    let mut random = Random(0x0ddb_a11d_1ce5_eed5);
    let mut read = 0;
    for case in 0..2000 {
        let bytes = mutate(&mut random, files[case % files.len()]);
        read += read_everything(&bytes);
    }
    assert!(read > 2000, "the files stay readable in places: {read}");
}
