use super::*;
use crate::formats::hdf5::dataset::Stored;
use crate::formats::hdf5::lookup::Tree;
use crate::formats::hdf5::readable::Readable;

/// Every box of a small array, against the formula.
fn every_box(file: &Hdf5, path: &str) {
    let shape = file.array(path).unwrap().shape.clone();
    let [na, nb, nc] = *shape.as_slice() else { panic!("three dimensions") };
    for (a, b, c) in
        (0..na).flat_map(|a| (0..nb).flat_map(move |b| (0..nc).map(move |c| (a, b, c))))
    {
        for (ka, kb, kc) in
            [(na - a, nb - b, nc - c), (1, 1, nc - c), (1, nb - b, 1), (na - a, 1, 1)]
        {
            let read = file.read(path, &[a, b, c], &[ka, kb, kc]).unwrap().to_f64();
            let mut expected = Vec::new();
            for i in a..a + ka {
                for j in b..b + kb {
                    for k in c..c + kc {
                        expected.push(((i * nb + j) * nc + k) as f64 * 3.0 - 5.0);
                    }
                }
            }
            assert_eq!(read, expected, "{path} {a} {b} {c}");
        }
    }
}

#[test]
fn all_boxes_of_all_indexes_and_filters() {
    every_box(&open(CHUNKS), "/gzip");
    let file = open(LINE);
    for i in 0..10 {
        let rest = file.read("/line", &[i], &[10 - i]).unwrap().to_f64();
        assert_eq!(rest, ramp(10)[i as usize..]);
    }
    let file = open(CHUNKS_NEW);
    for path in ["/gzip", "/lzf", "/extend", "/all"] {
        every_box(&file, path);
    }
    assert_eq!(all(&file, "/early"), ramp(25));
    assert_eq!(file.array("/gzip").unwrap().chunk, [2, 2, 4]);
}

#[test]
fn what_was_never_written_is_the_fill_value() {
    let file = open(CHUNKS_NEW);
    let mut expected = vec![-7.0; 1000];
    expected[231..234].fill(5.0);
    assert_eq!(all(&file, "/sparse"), expected);
    assert_eq!(file.read("/sparse", &[232], &[3]).unwrap().to_f64(), [5.0, 5.0, -7.0]);
}

#[test]
fn parts_of_complex_numbers_share_their_chunks() {
    let file = open(CHUNKS_NEW);
    assert_eq!(all(&file, "/complex/real"), [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]);
    assert_eq!(all(&file, "/complex/imag"), [0.0, 1.0, 4.0, 9.0, 16.0, 25.0]);
    assert_eq!(file.read("/complex/imag", &[1, 1], &[1, 2]).unwrap().to_f64(), [16.0, 25.0]);
}

/// Chunk by chunk through the tree and all at once: the same places.
#[test]
fn the_tree_is_searched_as_it_is_read() {
    let file = open(CHUNKS);
    let Some(Readable::Numbers(dataset, _)) = file.readable.get("/gzip") else { panic!("numbers") };
    let Stored::Chunked(chunked) = &dataset.stored else { panic!("chunks") };
    let (grid, reader) = (&chunked.grid, &file.chunks.file);
    let places = grid.places(reader).unwrap();
    assert_eq!(places.len(), 6);
    for place in &places {
        let cell = vec![place.number / 3, place.number % 3, 0];
        assert_eq!(
            Tree::default().find(reader, grid, std::slice::from_ref(&cell)).unwrap(),
            [(*place, cell)]
        );
    }
    assert_eq!(Tree::default().find(reader, grid, &[vec![2, 0, 0]]).unwrap(), []);
}
