use super::*;

/// In the page a read costs about a millisecond, however few its bytes.
#[test]
fn one_read_a_waveform_where_the_data_lie_in_one_piece() {
    // The 2 × 400 array of `cut.h5`, with the missing end put back.
    let mut bytes = CUT.to_vec();
    let data: Vec<u8> =
        (0..800i16).flat_map(|i| (f32::from(i) * 3.0 - 5.0).to_le_bytes()).collect();
    let first = bytes.len() - (data.len() - 1000);
    bytes.truncate(first);
    bytes.extend(data);
    let source = Counted::new(bytes);
    let file = Hdf5::open(source.clone()).unwrap();
    assert!(source.reads() <= 2, "the whole file fits one block");
    for row in 0..2 {
        let waveform = file.read("/p", &[row, 0], &[1, 400]).unwrap().to_f64();
        assert_eq!(waveform, ramp(800)[row as usize * 400..][..400]);
        assert_eq!(source.reads(), 1);
    }
}

#[test]
fn chunks_are_read_and_decoded_once() {
    let source = Counted::new(CHUNKS_NEW.to_vec());
    let file = Hdf5::open(source.clone()).unwrap();
    assert!(source.reads() <= 2);
    for _ in 0..3 {
        assert_eq!(all(&file, "/all"), ramp(60));
        assert_eq!(file.read("/gzip", &[2, 4, 0], &[1, 1, 4]).unwrap().len(), 4);
    }
    assert_eq!(source.reads(), 0, "all of it is in the block cache");
}

#[test]
fn the_signature_may_stand_behind_a_user_block() {
    let mut bytes = vec![0u8; 1024];
    bytes.extend(GROUPS);
    assert_eq!(all(&open(&bytes), "/scan/p"), ramp(16));
}
