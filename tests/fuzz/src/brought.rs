//! Files of other programs that are brought in: whatever the bytes are, they are read to their end, and each customer is
//! new or perhaps known, each price one of the price list.

use app_core::commands::bring::{CustomersPreview, FileKind, PricesPreview, customers_in, decoded};
use shared::log::body::field;
use shared::log::fold::ShopState;

/// The input: the bytes of a file.
pub(crate) fn file(data: &[u8]) {
    let text = decoded(data);
    for kind in FileKind::ALL {
        let file = customers_in(&text, kind);
        let read = file.customers.len();
        let preview = CustomersPreview::of(file, &[]);
        assert_eq!(preview.new.len() + preview.doubles.len(), read);
    }
    let prices = PricesPreview::of(&text, &ShopState::default());
    assert!(prices.new.iter().all(|price| field::is_price(&price.field)));
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let seeds: [&[u8]; 4] = [
        b"name;phone;\"note\"\r\nLea;555 0142;\"a \"\"b\"\"\r\nc\"\r\n",
        b"BEGIN:VCARD\r\nVERSION:4.0\r\nFN:Lea\\, the\r\n  first\r\nTEL;VALUE=uri;TYPE=cell:tel:+1-555;ext=1\r\nEND:VCARD\r\n",
        b"BEGIN:VCARD\nVERSION:2.1\nN;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:Gr=C3=\n=BCn;Jo\nEND:VCARD\n",
        b"operation,boot,belt\nhalf_sole,40.00,\n",
    ];
    Vec::from(seeds.map(<[u8]>::to_vec))
}
