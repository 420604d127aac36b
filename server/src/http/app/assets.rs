//! Finds files of the app, compressed if the browser accepts that.

use std::path::{Component, Path, PathBuf};

use bytes::Bytes;

/// Where the app's files are.
#[derive(Debug, Clone)]
pub enum Assets {
    /// In a folder. Each request reads the file again.
    Folder(PathBuf),
    /// Embedded in the binary.
    #[cfg(feature = "embed")]
    Inside,
}

/// A file of the app.
pub(super) struct Asset {
    /// Its name, without the suffix of a compression.
    pub(super) name: String,
    /// Its content, compressed as `encoding` says.
    pub(super) bytes: Bytes,
    /// The value for `Content-Encoding`; `None` if it is not compressed.
    pub(super) encoding: Option<&'static str>,
}

#[cfg(feature = "embed")]
#[derive(rust_embed::RustEmbed)]
#[folder = "../app/dist"]
struct Inside;

impl Assets {
    /// The app in this folder. Without a folder the app embedded in the binary or, if there is none, the one in
    /// `app/dist`.
    pub fn new(folder: Option<&Path>) -> Self {
        match folder {
            Some(folder) => Self::Folder(folder.to_owned()),
            #[cfg(feature = "embed")]
            None => Self::Inside,
            #[cfg(not(feature = "embed"))]
            None => Self::Folder(PathBuf::from("app/dist")),
        }
    }

    /// Finds a file by its path below the root. Paths that lead out of the root find nothing. `accepts` is the
    /// request's `Accept-Encoding`.
    pub(super) async fn find(&self, path: &str, accepts: &str) -> Option<Asset> {
        if !Path::new(path)
            .components()
            .all(|part| matches!(part, Component::Normal(_)))
        {
            return None;
        }
        for (encoding, suffix) in [("br", ".br"), ("gzip", ".gz")] {
            if takes(accepts, encoding)
                && let Some(bytes) = self.read(&format!("{path}{suffix}")).await
            {
                return Some(Asset {
                    name: path.to_owned(),
                    bytes,
                    encoding: Some(encoding),
                });
            }
        }
        let bytes = self.read(path).await?;
        Some(Asset {
            name: path.to_owned(),
            bytes,
            encoding: None,
        })
    }

    async fn read(&self, path: &str) -> Option<Bytes> {
        match self {
            Self::Folder(folder) => tokio::fs::read(folder.join(path)).await.ok().map(Bytes::from),
            #[cfg(feature = "embed")]
            Self::Inside => Inside::get(path).map(|file| match file.data {
                std::borrow::Cow::Borrowed(bytes) => Bytes::from_static(bytes),
                std::borrow::Cow::Owned(bytes) => Bytes::from(bytes),
            }),
        }
    }
}

/// Whether this `Accept-Encoding` accepts this encoding.
fn takes(accepts: &str, encoding: &str) -> bool {
    accepts.split(',').any(|part| {
        let mut part = part.split(';').map(str::trim);
        part.next() == Some(encoding) && part.next().is_none_or(|weight| weight != "q=0")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn finds_what_is_below_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("dist");
        std::fs::create_dir(&root).unwrap();
        std::fs::write(root.join("sw.js"), "plain").unwrap();
        std::fs::write(root.join("sw.js.br"), "small").unwrap();
        std::fs::write(folder.path().join("secret.txt"), "no").unwrap();
        let assets = Assets::Folder(root);
        let found = async |path, accepts| assets.find(path, accepts).await.map(|asset| asset.bytes);
        assert_eq!(found("sw.js", "").await.unwrap(), "plain");
        assert_eq!(found("sw.js", "gzip, br;q=0.8").await.unwrap(), "small");
        assert_eq!(found("sw.js", "br;q=0").await.unwrap(), "plain");
        for trick in [
            "../secret.txt",
            "./../secret.txt",
            "x/../../secret.txt",
            "/etc/passwd",
            "..",
            "",
        ] {
            assert!(found(trick, "").await.is_none(), "{trick}");
        }
    }
}
