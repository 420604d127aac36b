//! The reader of codes on tags: any picture either has a code that it can read, or none.

use qrcodegen::{QrCode, QrCodeEcc};

/// The input: the width of the picture in the first byte, then one byte of brightness per pixel. Incomplete rows are
/// cut off.
pub(crate) fn frame(data: &[u8]) {
    let Some((width, luma)) = data.split_first() else {
        return;
    };
    let width = usize::from(*width).max(1);
    let height = (luma.len() / width).min(255);
    let luma = &luma[..width * height];
    let (width, height) = (width as u32, height as u32);
    if let Some(text) = reader::read(luma, width, height) {
        assert!(!text.is_empty());
        app_core::stations::number_meant(Vec::new(), &text);
    }
    let _ = reader::read(luma, width + 1, height);
}

/// Pictures of the code on a stub, two pixels per module.
pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let drawn = |text: &str| {
        let code = QrCode::encode_text(text, QrCodeEcc::Medium).unwrap();
        let side = (code.size() + 8) * 2;
        let dark = |x: i32, y: i32| code.get_module(x / 2 - 4, y / 2 - 4);
        let mut seed = vec![side as u8];
        seed.extend(
            (0..side)
                .flat_map(|y| (0..side).map(move |x| (x, y)))
                .map(|(x, y)| if dark(x, y) { 20 } else { 235 }),
        );
        seed
    };
    vec![
        drawn("01936f2a-7b1c-7e44-9d0a-3c5b8e1f2a60"),
        drawn("A-17"),
        vec![8; 65],
    ]
}
