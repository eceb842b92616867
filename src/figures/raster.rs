//! Coloured cells of a map, and their PNG.

use super::palette::Rgb;
use super::problem::DrawProblem;

/// Cells with a colour or none, row by row from the upper left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raster {
    columns: usize,
    rows: usize,
    cells: Vec<Option<Rgb>>,
}

impl Raster {
    /// A raster whose cell at (column, row) is what `cell` says.
    pub fn from_cells(
        columns: usize,
        rows: usize,
        cell: impl Fn(usize, usize) -> Option<Rgb>,
    ) -> Self {
        let cells = (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row)));
        Self { columns, rows, cells: cells.map(|(column, row)| cell(column, row)).collect() }
    }

    /// Columns and rows.
    pub fn size(&self) -> (usize, usize) {
        (self.columns, self.rows)
    }

    /// Colour of a cell; none where there is no value.
    pub fn get(&self, column: usize, row: usize) -> Option<Rgb> {
        if column >= self.columns {
            return None;
        }
        self.cells.get(row * self.columns + column).copied().flatten()
    }

    /// The raster as a PNG file, 8 bits a channel, cells without a value transparent.
    ///
    /// # Errors
    /// When the raster has no cells or more than PNG allows.
    pub fn png(&self) -> Result<Vec<u8>, DrawProblem> {
        let whole = self.cells.iter().all(Option::is_some);
        let mut bytes = Vec::with_capacity(self.cells.len() * 4);
        for cell in &self.cells {
            let (r, g, b) = cell.unwrap_or((0xff, 0xff, 0xff));
            bytes.extend([r, g, b]);
            if !whole {
                bytes.push(if cell.is_some() { 0xff } else { 0 });
            }
        }
        let mut out = Vec::new();
        let side = |n: usize| u32::try_from(n).map_err(|e| DrawProblem::Raster(e.to_string()));
        let mut encoder = png::Encoder::new(&mut out, side(self.columns)?, side(self.rows)?);
        encoder.set_color(if whole { png::ColorType::Rgb } else { png::ColorType::Rgba });
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_compression(png::Compression::Balanced);
        let mut writer = encoder.write_header().map_err(|e| DrawProblem::Raster(e.to_string()))?;
        writer.write_image_data(&bytes).map_err(|e| DrawProblem::Raster(e.to_string()))?;
        writer.finish().map_err(|e| DrawProblem::Raster(e.to_string()))?;
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decode(bytes: &[u8]) -> (u32, u32, png::ColorType, Vec<u8>) {
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut pixels).unwrap();
        (info.width, info.height, info.color_type, pixels)
    }

    // Checked by the png crate's decoder.
    #[test]
    fn the_png_holds_the_colours() {
        let raster = Raster::from_cells(3, 2, |c, r| Some((c as u8, r as u8, 200)));
        let (width, height, kind, pixels) = decode(&raster.png().unwrap());
        assert_eq!((width, height, kind), (3, 2, png::ColorType::Rgb));
        assert_eq!(pixels, [0, 0, 200, 1, 0, 200, 2, 0, 200, 0, 1, 200, 1, 1, 200, 2, 1, 200]);
    }

    #[test]
    fn a_cell_without_value_is_transparent() {
        let raster = Raster::from_cells(2, 1, |c, _| (c == 1).then_some((9, 8, 7)));
        let (_, _, kind, pixels) = decode(&raster.png().unwrap());
        assert_eq!(kind, png::ColorType::Rgba);
        assert_eq!(pixels[3], 0);
        assert_eq!(pixels[4..], [9, 8, 7, 255]);
    }

    #[test]
    fn an_empty_raster_is_refused() {
        assert!(Raster::from_cells(0, 0, |_, _| None).png().is_err());
    }
}
