//! Pictures with EXIF, which can say where they were taken, are not taken.

use server::data::DataFolder;
use server_core::store::{BlobRow, BlobTx, Store, StoreTx, TxMode};
use support::running::Server;
use support::sample::{Pen, sha256};

use crate::{WAXEND, server};

/// Two pictures of each kind, the second one with EXIF.
fn pictures() -> [(&'static str, Vec<u8>, Vec<u8>); 3] {
    let jpeg = |exif: &[u8]| {
        [
            &b"\xff\xd8\xff\xe0\0\x07JFIF\0"[..],
            exif,
            b"\xff\xda\0\x02picture\xff\xd9",
        ]
        .concat()
    };
    let png = |exif: &[u8]| {
        let head: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x04IHDRheadsum!";
        [head, exif, b"\0\0\0\x04IDATdatasum!\0\0\0\0IENDsum!"].concat()
    };
    let webp = |exif: &[u8]| {
        let head: &[u8] = b"RIFF\x40\0\0\0WEBPVP8 \x05\0\0\0image\0";
        [head, exif].concat()
    };
    [
        ("image/jpeg", jpeg(b""), jpeg(b"\xff\xe1\0\x0cExif\0\0II*\0")),
        ("image/png", png(b""), png(b"\0\0\0\x04eXIfII*\0sum!")),
        ("image/webp", webp(b""), webp(b"EXIF\x04\0\0\0II*\0")),
    ]
}

#[test]
fn a_new_picture_with_exif_is_refused_and_a_clean_one_is_taken() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    for (media_type, clean, with_exif) in pictures() {
        let name = sha256(&with_exif);
        let refused = device.put_blob(&name, media_type, &with_exif);
        assert_eq!(refused.refusal(422), "has_exif", "{media_type}");
        let kept = device.get(&format!("/api/v1/blobs/{name}"));
        assert_eq!(kept.refusal(404), "not_found", "{media_type}");
        assert_eq!(
            device.put_blob(&sha256(&clean), media_type, &clean).status,
            201,
            "{media_type}"
        );
    }
    let drafts = std::fs::read_dir(server.data.join("photos/incoming")).unwrap();
    assert_eq!(drafts.count(), 0, "nothing is left of what was refused");
}

/// An earlier version has taken it, and its file was damaged since: a device may send it again.
#[test]
fn a_picture_that_is_listed_already_is_taken_with_its_exif() {
    let (_kept, server) = server();
    let device = server.join(Pen::new(1).device);
    let data = server.data.clone();
    server.stop();
    let [(media_type, _, bytes), ..] = pictures();
    let name = sha256(&bytes);
    let folder = data.join(format!("photos/{}/{}", &name[..2], &name[2..4]));
    std::fs::create_dir_all(&folder).unwrap();
    let damaged: Vec<u8> = bytes.iter().map(|byte| !byte).collect();
    std::fs::write(folder.join(&name), damaged).unwrap();
    let row = BlobRow {
        hash: name.parse().unwrap(),
        media_type: media_type.to_owned(),
        bytes: bytes.len() as u64,
    };
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let store = DataFolder::at(&data).unwrap().open_store().await.unwrap();
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        tx.add_blob(&row).await.unwrap();
        tx.commit().await.unwrap();
        store.close().await;
    });
    let server = Server::start(WAXEND, &data, &[]);
    let device = device.at(&server);
    assert_eq!(device.put_blob(&name, media_type, &bytes).status, 200);
    assert_eq!(device.get(&format!("/api/v1/blobs/{name}")).body, bytes);
}
