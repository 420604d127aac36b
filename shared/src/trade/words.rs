//! Open enumerations of the trade whose every value can be said in words.

/// Declares an open enum (see [`crate::log::open`]) with the trade's word for each variant beside its code.
macro_rules! worded {
    ($(#[$meta:meta])* $name:ident {
        $($(#[$vmeta:meta])* $variant:ident = $code:literal, $words:literal;)+
    }) => {
        $crate::log::open::open_enum!($(#[$meta])* $name { $($(#[$vmeta])* $variant = $code,)+ });

        impl $name {
            /// What it is called on a screen; a word this version does not know is said as it came.
            pub fn words(&self) -> &str {
                match self {
                    $($name::$variant => $words,)+
                    $name::Other(text) => text,
                }
            }
        }
    };
}

pub(crate) use worded;
