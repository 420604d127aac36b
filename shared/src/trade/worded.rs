//! Open enumerations of the trade whose values have a name on the screen, in the usage of the shop's language.

/// Declares an open enum (see [`crate::log::open`]) with the trade's word for each variant beside its code.
macro_rules! worded {
    ($(#[$meta:meta])* $name:ident {
        $($(#[$vmeta:meta])* $variant:ident = $code:literal, $words:literal;)+
    }) => {
        $crate::log::open::open_enum!($(#[$meta])* $name { $($(#[$vmeta])* $variant = $code,)+ });

        impl $name {
            /// The name on a screen; a word this version does not know is returned unchanged.
            pub fn words(&self) -> &str {
                match self {
                    $($name::$variant => $crate::trade::usage::in_usage($words),)+
                    $name::Other(text) => text,
                }
            }
        }
    };
}

pub(crate) use worded;
