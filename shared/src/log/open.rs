//! Open enumerations: a closed set of words this version knows, and every other word kept as it came.

/// Declares an enum whose known variants are fixed strings and whose `Other` keeps any other string, so that
/// a value written by a newer app survives reading and writing unchanged.
macro_rules! open_enum {
    ($(#[$meta:meta])* $name:ident { $($(#[$vmeta:meta])* $variant:ident = $text:literal),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $($(#[$vmeta])* $variant,)+
            /// A word this version does not know, kept as received.
            Other(String),
        }

        impl $name {
            /// Every word that this version knows, in the order in which they are declared.
            pub const KNOWN: &'static [$name] = &[$($name::$variant),+];

            /// The word as it is written in the log.
            pub fn as_str(&self) -> &str {
                match self {
                    $($name::$variant => $text,)+
                    $name::Other(text) => text,
                }
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                match text {
                    $($text => $name::$variant,)+
                    other => $name::Other(other.to_owned()),
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.as_str())
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.serialize_str(self.as_str())
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
                Ok(Self::from(text.as_ref()))
            }
        }
    };
}

pub(crate) use open_enum;
