//! Results compared with published values. The source of each is given.

use bytes::Bytes;
use futures_util::stream;
use server_core::shop::Put;
use shared::log::EntryId;
use support::memory::Household;

/// RFC 9562 (May 2024), appendix A.6: the example UUIDv7, made at 2022-02-22 19:22:22 UTC.
#[test]
fn uuid_version_7() {
    let id: EntryId = "017F22E2-79B0-7CC3-98C4-DC0C0C07398F".parse().unwrap();
    assert_eq!(id.0.get_version_num(), 7);
    let (seconds, nanos) = id.0.get_timestamp().unwrap().to_unix();
    assert_eq!((seconds, nanos), (1_645_557_742, 0));
    assert_eq!(id.to_string(), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
}

/// FIPS 180-4: the examples that NIST publishes with it ("abc", the 448-bit message, one million "a"), and the empty
/// message.
#[test]
fn sha_256() {
    let long = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    let examples: [(Vec<u8>, &str); 4] = [
        (
            Vec::new(),
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
        ),
        (
            b"abc".to_vec(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        ),
        (
            long.into(),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        (
            vec![b'a'; 1_000_000],
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
        ),
    ];
    for (bytes, expected) in examples {
        assert_eq!(support::sample::sha256(&bytes), expected);
    }
}

/// The server's hash of a received file, compared with `sha256sum` of GNU coreutils.
#[tokio::test]
async fn a_blob_is_named_as_sha256sum_names_it() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = support::sample::picture(5, 123_456);
    let file = folder.path().join("picture");
    std::fs::write(&file, &bytes).unwrap();
    let out = std::process::Command::new("sha256sum")
        .arg(&file)
        .output()
        .unwrap();
    let name = String::from_utf8(out.stdout).unwrap()[..64].to_owned();
    let shop = Household::new(1).open().await;
    let chunks: Vec<_> = bytes
        .chunks(1000)
        .map(|chunk| Ok(Bytes::copy_from_slice(chunk)))
        .collect();
    let put = shop
        .put_blob(&name, "image/jpeg", stream::iter(chunks))
        .await
        .unwrap();
    assert_eq!(put, Put::New);
}
